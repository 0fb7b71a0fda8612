//! Published tables, offered as suggestions: pipe sizes, tube gauges, tube diameters, hole saws, paper.
