//! The cut line of one end: its height at every turn, its extremes, its polyline.
