//! One device-independent drawing in millimetres: strokes, text, pages.
