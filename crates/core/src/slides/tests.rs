//! Which slides are chosen, against figures worked by hand.
