//! The drawing model: strokes and text on a page, in millimetres from its upper left corner.
//!
//! Everything that is shown or printed is one of these; the writers turn it into a format, and
//! nothing after this room knows a tube.

use crate::units::Angle;

/// A place on the page, mm to the right of and below its upper left corner.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Point {
    /// To the right, mm.
    pub x: f64,
    /// Downwards, mm.
    pub y: f64,
}

impl Point {
    /// A place from its two distances in mm.
    #[must_use]
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }
}

/// What a mark means; becomes a layer or a class in the written format.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Layer {
    /// Where the tube is cut.
    Cut,
    /// Where the branch passes beside the main and is only trimmed.
    Trim,
    /// A straight cut before the saw.
    PreCut,
    /// Where the branch's outside lands on the main.
    Landing,
    /// The hole in the main, as wide as the branch's bore.
    Hole,
    /// The straight edge square to the tube.
    Mark,
    /// The zero line.
    Zero,
    /// Quarter lines and other turns.
    Quarter,
    /// The overlap tab.
    Tab,
    /// Outline of the paper strip to cut out.
    Edge,
    /// Check rulers.
    Ruler,
    /// Bank-card corners, registration crosses.
    Check,
    /// Visible outlines of tubes in a sketch.
    Tube,
    /// Hidden outlines of tubes in a sketch.
    Hidden,
    /// Axes of tubes.
    Axis,
    /// Dimension and extension lines.
    Dimension,
    /// Frames and rules of the page.
    Frame,
    /// Words.
    Note,
}

impl Layer {
    /// Plain name, for layers and classes.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Cut => "cut",
            Self::Trim => "trim",
            Self::PreCut => "pre-cut",
            Self::Landing => "landing",
            Self::Hole => "hole",
            Self::Mark => "mark",
            Self::Zero => "zero",
            Self::Quarter => "quarter",
            Self::Tab => "tab",
            Self::Edge => "edge",
            Self::Ruler => "ruler",
            Self::Check => "check",
            Self::Tube => "tube",
            Self::Hidden => "hidden",
            Self::Axis => "axis",
            Self::Dimension => "dimension",
            Self::Frame => "frame",
            Self::Note => "note",
        }
    }
}

/// How a line is broken; told apart without colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pattern {
    /// Unbroken.
    Solid,
    /// Even dashes.
    Dashed,
    /// Long dashes far apart.
    LongDashed,
    /// Long dash, dot: axes.
    DashDot,
    /// Dots.
    Dotted,
}

impl Pattern {
    /// Dash and gap lengths in mm; empty for an unbroken line.
    #[must_use]
    pub const fn dashes(self) -> &'static [f64] {
        match self {
            Self::Solid => &[],
            Self::Dashed => &[3.0, 1.5],
            Self::LongDashed => &[9.0, 3.0],
            Self::DashDot => &[7.0, 1.2, 0.8, 1.2],
            Self::Dotted => &[0.5, 1.2],
        }
    }
}

/// Width and pattern of a stroke.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pen {
    /// Line width, mm.
    pub width: f64,
    /// How it is broken.
    pub pattern: Pattern,
}

impl Pen {
    /// The cut line; no other stroke on a sheet has this width.
    pub const CUT: Self = Self {
        width: 0.35,
        pattern: Pattern::Solid,
    };
    /// Where the branch lands on the main; no other stroke on a sheet has this width.
    pub const LANDING: Self = Self {
        width: 0.4,
        pattern: Pattern::Solid,
    };
    /// The hole in the main; no other stroke on a sheet has this width.
    pub const HOLE: Self = Self {
        width: 0.28,
        pattern: Pattern::Solid,
    };
    /// Trim beside the main.
    pub const TRIM: Self = Self {
        width: 0.3,
        pattern: Pattern::Dashed,
    };
    /// A straight cut before the saw; no other stroke on a sheet has this width.
    pub const PRE_CUT: Self = Self {
        width: 0.22,
        pattern: Pattern::LongDashed,
    };
    /// The mark line and other lines to cut or fold along.
    pub const MARK: Self = Self {
        width: 0.25,
        pattern: Pattern::Solid,
    };
    /// Strong outlines.
    pub const BOLD: Self = Self {
        width: 0.5,
        pattern: Pattern::Solid,
    };
    /// Ordinary thin lines.
    pub const THIN: Self = Self {
        width: 0.18,
        pattern: Pattern::Solid,
    };
    /// Hairlines.
    pub const HAIR: Self = Self {
        width: 0.1,
        pattern: Pattern::Solid,
    };
    /// Hidden edges.
    pub const HIDDEN: Self = Self {
        width: 0.18,
        pattern: Pattern::Dashed,
    };
    /// Axes and the zero line.
    pub const AXIS: Self = Self {
        width: 0.18,
        pattern: Pattern::DashDot,
    };
    /// Quarter lines.
    pub const QUARTER: Self = Self {
        width: 0.18,
        pattern: Pattern::Dotted,
    };
}

/// Where a text hangs on its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// The point is at the text's start.
    Start,
    /// The point is at the text's middle.
    Middle,
    /// The point is at the text's end.
    End,
}

/// Something on the page.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// A line through points, or an area if `filled`.
    Stroke {
        /// What it means.
        layer: Layer,
        /// How it is drawn; ignored when filled.
        pen: Pen,
        /// At least two points.
        points: Vec<Point>,
        /// Whether the last point joins the first.
        closed: bool,
        /// Whether the inside is filled with ink instead of being outlined.
        filled: bool,
    },
    /// A line of text.
    Text {
        /// Where its baseline hangs.
        at: Point,
        /// Height of the letters' body (font size), mm.
        size: f64,
        /// Which part of it is at the point.
        anchor: Anchor,
        /// Turned clockwise on the page about the point.
        turn: Angle,
        /// Whether it is set strong.
        bold: bool,
        /// The words.
        text: String,
    },
}

/// A page.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Drawing {
    /// Width of the page, mm.
    pub width: f64,
    /// Height of the page, mm.
    pub height: f64,
    /// What is on it, in drawing order.
    pub items: Vec<Item>,
}

impl Drawing {
    /// An empty page.
    #[must_use]
    pub const fn new(width: f64, height: f64) -> Self {
        Self {
            width,
            height,
            items: Vec::new(),
        }
    }

    /// Adds an open line.
    pub fn line(&mut self, layer: Layer, pen: Pen, points: impl IntoIterator<Item = Point>) {
        self.stroke(layer, pen, points, false, false);
    }

    /// Adds a closed outline.
    pub fn outline(&mut self, layer: Layer, pen: Pen, points: impl IntoIterator<Item = Point>) {
        self.stroke(layer, pen, points, true, false);
    }

    /// Adds a filled area.
    pub fn fill(&mut self, layer: Layer, points: impl IntoIterator<Item = Point>) {
        self.stroke(layer, Pen::HAIR, points, true, true);
    }

    fn stroke(
        &mut self,
        layer: Layer,
        pen: Pen,
        points: impl IntoIterator<Item = Point>,
        closed: bool,
        filled: bool,
    ) {
        let points = points.into_iter().collect();
        self.items.push(Item::Stroke {
            layer,
            pen,
            points,
            closed,
            filled,
        });
    }

    /// Adds a filled arrow head with its point at `tip`, `long` mm long and twice `half` wide,
    /// pointing away from `from`.
    pub fn arrow_head(&mut self, layer: Layer, from: Point, tip: Point, long: f64, half: f64) {
        let (dx, dy) = (tip.x - from.x, tip.y - from.y);
        let length = dx.hypot(dy);
        if length <= f64::EPSILON {
            return;
        }
        let (ux, uy) = (dx / length, dy / length);
        let back = Point::new(tip.x - long * ux, tip.y - long * uy);
        let side = |half: f64| Point::new(back.x - half * uy, back.y + half * ux);
        self.fill(layer, [tip, side(half), side(-half)]);
    }

    /// Adds a line of upright text.
    pub fn text(&mut self, at: Point, size: f64, anchor: Anchor, text: impl Into<String>) {
        self.turned_text(at, size, anchor, Angle::ZERO, false, text);
    }

    /// Adds a line of strong upright text.
    pub fn bold_text(&mut self, at: Point, size: f64, anchor: Anchor, text: impl Into<String>) {
        self.turned_text(at, size, anchor, Angle::ZERO, true, text);
    }

    /// Adds a line of text turned clockwise about its point.
    pub fn turned_text(
        &mut self,
        at: Point,
        size: f64,
        anchor: Anchor,
        turn: Angle,
        bold: bool,
        text: impl Into<String>,
    ) {
        self.items.push(Item::Text {
            at,
            size,
            anchor,
            turn,
            bold,
            text: text.into(),
        });
    }
}
