//! Views, hidden lines, dimension chains and sheets as display lists, with writers for PDF and SVG.
