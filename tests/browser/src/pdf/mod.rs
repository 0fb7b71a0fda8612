//! Reads a printed PDF back as what is on the paper: lines and words in millimetres.
//!
//! The origin is the sheet's upper left corner, x to the right and y down. Only vectors and text
//! are read; pictures and shadings are not.

mod dash;
mod matrix;
mod read;

pub use dash::DashedLine;

/// A point on the paper, x to the right and y down from the upper left corner, in mm.
pub type Point = [f64; 2];

/// A printed document.
#[derive(Debug, Clone)]
pub struct Pdf {
    /// Its sheets, in order.
    pub pages: Vec<Page>,
}

/// One sheet.
#[derive(Debug, Clone)]
pub struct Page {
    /// Width of the media box in mm.
    pub width_mm: f64,
    /// Height of the media box in mm.
    pub height_mm: f64,
    /// Lines drawn by stroking, one for each subpath, in drawing order.
    pub strokes: Vec<Stroke>,
    /// Filled shapes, one for each painted path, in drawing order. Chromium prints dashed strokes
    /// as these: see [`Fill::dashed_lines`].
    pub fills: Vec<Fill>,
    /// Words, one for each text object, in drawing order.
    pub texts: Vec<Text>,
}

/// One stroked line, its curves flattened to within 0.001 mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Stroke {
    /// Corners along the line. A closed line does not repeat its first point.
    pub points: Vec<Point>,
    /// Whether the last point runs back to the first.
    pub closed: bool,
    /// Width of the pen in mm (the mean of its two widths, should the page be stretched).
    pub width_mm: f64,
    /// Lengths of dashes and gaps in mm, empty for a solid line.
    pub dash_mm: Vec<f64>,
    /// Red, green and blue, each from 0 to 1.
    pub colour: [f64; 3],
    /// What of the sheet can show the line.
    pub clip: Bounds,
}

/// One filled path.
#[derive(Debug, Clone, PartialEq)]
pub struct Fill {
    /// Its closed outlines, curves flattened, without repeating the first point.
    pub outlines: Vec<Vec<Point>>,
    /// Red, green and blue, each from 0 to 1.
    pub colour: [f64; 3],
    /// What of the sheet can show the shape.
    pub clip: Bounds,
}

/// The words of one text object.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// The words as a reader would type them, without ligatures.
    pub words: String,
    /// Start of the base line.
    pub at: Point,
    /// Nominal height of the face in mm.
    pub size_mm: f64,
    /// Direction of the base line in degrees, clockwise from pointing right.
    pub turned_deg: f64,
}

/// An upright box on the sheet, in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// Upper left corner.
    pub min: Point,
    /// Lower right corner.
    pub max: Point,
}

impl Pdf {
    /// Reads a document.
    ///
    /// # Errors
    /// When the bytes are no PDF, or a page lacks its size or content.
    pub fn read(bytes: &[u8]) -> Result<Self, lopdf::Error> {
        read::pages(bytes).map(|pages| Self { pages })
    }
}

impl Page {
    /// Whether some text on the sheet contains these words.
    #[must_use]
    pub fn says(&self, words: &str) -> bool {
        self.texts.iter().any(|text| text.words.contains(words))
    }

    /// The solid strokes of this pen, told apart by its width within 0.005 mm.
    pub fn strokes_of_width(&self, width_mm: f64) -> impl Iterator<Item = &Stroke> {
        let same = move |stroke: &&Stroke| (stroke.width_mm - width_mm).abs() < 0.005;
        self.strokes.iter().filter(same)
    }

    /// The straight dashed lines.
    #[must_use]
    pub fn dashed_lines(&self) -> Vec<DashedLine> {
        self.fills.iter().flat_map(Fill::dashed_lines).collect()
    }
}

impl Stroke {
    /// Length along the line in mm, back to the start if it is closed.
    #[must_use]
    pub fn length_mm(&self) -> f64 {
        let open: f64 = self
            .points
            .windows(2)
            .map(|ab| distance(ab[0], ab[1]))
            .sum();
        match (self.closed, self.points.first(), self.points.last()) {
            (true, Some(&first), Some(&last)) => open + distance(last, first),
            _ => open,
        }
    }

    /// The smallest box around the line's points.
    #[must_use]
    pub fn bounds(&self) -> Bounds {
        Bounds::around(&self.points)
    }
}

impl Bounds {
    /// The smallest box around some points; inside out when there are none.
    #[must_use]
    pub fn around(points: &[Point]) -> Self {
        let mut bounds = Self {
            min: [f64::INFINITY; 2],
            max: [f64::NEG_INFINITY; 2],
        };
        for point in points {
            for (axis, &value) in point.iter().enumerate() {
                bounds.min[axis] = bounds.min[axis].min(value);
                bounds.max[axis] = bounds.max[axis].max(value);
            }
        }
        bounds
    }

    /// What two boxes have in common; inside out when they lie apart.
    #[must_use]
    pub fn meet(self, other: Self) -> Self {
        Self {
            min: [0, 1].map(|axis| self.min[axis].max(other.min[axis])),
            max: [0, 1].map(|axis| self.max[axis].min(other.max[axis])),
        }
    }

    /// Whether the point lies in the box or on its edge.
    #[must_use]
    pub fn contains(self, point: Point) -> bool {
        (0..2).all(|axis| (self.min[axis]..=self.max[axis]).contains(&point[axis]))
    }

    /// Size from left to right in mm.
    #[must_use]
    pub fn width_mm(self) -> f64 {
        self.max[0] - self.min[0]
    }

    /// Size from top to bottom in mm.
    #[must_use]
    pub fn height_mm(self) -> f64 {
        self.max[1] - self.min[1]
    }
}

/// Distance between two points in mm.
#[must_use]
pub fn distance(a: Point, b: Point) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}
