//! The same drawing, or table, in the formats people use: SVG and CSV.
