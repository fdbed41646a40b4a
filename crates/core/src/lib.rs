//! The furniture core: lengths, Design, solver, Layout, Assembly, fittings, site, checks and build plan.
