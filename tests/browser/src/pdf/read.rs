//! Runs a page's drawing operators (ISO 32000-1, 8 and 9) and keeps what they paint.

use lopdf::content::{Content, Operation};
use lopdf::{Dictionary, Document, Object, ObjectId};

use super::matrix::{Matrix, flatten};
use super::{Bounds, Fill, Page, Point, Stroke, Text};

const MM_PER_POINT: f64 = 25.4 / 72.0;

/// Forms drawn inside forms deeper than this are taken for a document that draws itself.
const DEEPEST_FORM: usize = 16;

pub fn pages(bytes: &[u8]) -> Result<Vec<Page>, lopdf::Error> {
    let document = Document::load_mem(bytes)?;
    let ids = document.get_pages();
    ids.values().map(|&id| page(&document, id)).collect()
}

fn page(document: &Document, id: ObjectId) -> Result<Page, lopdf::Error> {
    let media = inherited(document, id, b"MediaBox")?.as_array()?;
    let media: Vec<f64> = media.iter().map(number).collect::<Result<_, _>>()?;
    let &[left, bottom, right, top] = media.as_slice() else {
        return Err(lopdf::Error::DictKey("MediaBox of four numbers".into()));
    };
    let k = MM_PER_POINT;
    let to_paper = Matrix([k, 0.0, 0.0, -k, -k * left, k * top]);
    let [width_mm, height_mm] = [k * (right - left), k * (top - bottom)];
    let sheet = Bounds {
        min: [0.0, 0.0],
        max: [width_mm, height_mm],
    };
    let mut painter = Painter {
        document,
        state: State::new(to_paper, sheet),
        saved: Vec::new(),
        path: Vec::new(),
        clips: false,
        words: None,
        page: Page {
            width_mm,
            height_mm,
            strokes: Vec::new(),
            fills: Vec::new(),
            texts: Vec::new(),
        },
    };
    let resources = inherited(document, id, b"Resources")?.as_dict()?;
    painter.draw(&document.get_page_content(id), resources, 0)?;
    Ok(painter.page)
}

/// A page's own entry, or that of the page tree above it.
fn inherited<'a>(
    document: &'a Document,
    id: ObjectId,
    key: &[u8],
) -> Result<&'a Object, lopdf::Error> {
    let mut node = document.get_dictionary(id)?;
    while !node.has(key) {
        node = node.get_deref(b"Parent", document)?.as_dict()?;
    }
    node.get_deref(key, document)
}

fn number(object: &Object) -> Result<f64, lopdf::Error> {
    object.as_float().map(f64::from)
}

/// The part of the graphics state that shows in what we keep.
#[derive(Clone)]
struct State<'a> {
    to_paper: Matrix,
    clip: Bounds,
    pen_width: f64,
    dash: Vec<f64>,
    stroke_colour: [f64; 3],
    fill_colour: [f64; 3],
    font: Option<&'a Dictionary>,
    font_size: f64,
    leading: f64,
    text: Matrix,
    line: Matrix,
}

impl State<'_> {
    fn new(to_paper: Matrix, clip: Bounds) -> Self {
        Self {
            to_paper,
            clip,
            pen_width: 1.0,
            dash: Vec::new(),
            stroke_colour: [0.0; 3],
            fill_colour: [0.0; 3],
            font: None,
            font_size: 0.0,
            leading: 0.0,
            text: Matrix::IDENTITY,
            line: Matrix::IDENTITY,
        }
    }

    fn next_line(&mut self, x: f64, y: f64) {
        self.line = Matrix([1.0, 0.0, 0.0, 1.0, x, y]).then(self.line);
        self.text = self.line;
    }
}

/// Part of a path, already on the paper.
struct Subpath {
    points: Vec<Point>,
    closed: bool,
}

struct Painter<'a> {
    document: &'a Document,
    state: State<'a>,
    saved: Vec<State<'a>>,
    path: Vec<Subpath>,
    /// Whether the path becomes part of the clip once it is painted.
    clips: bool,
    /// The text object being read.
    words: Option<Text>,
    page: Page,
}

impl<'a> Painter<'a> {
    fn draw(
        &mut self,
        content: &[u8],
        resources: &'a Dictionary,
        depth: usize,
    ) -> Result<(), lopdf::Error> {
        for operation in Content::decode(content)?.operations {
            if operation.operator == "Do" {
                self.form(&operation, resources, depth)?;
            } else {
                self.operate(&operation, resources)?;
            }
        }
        Ok(())
    }

    fn operate(
        &mut self,
        operation: &Operation,
        resources: &'a Dictionary,
    ) -> Result<(), lopdf::Error> {
        let operands = &operation.operands;
        let numbers: Vec<f64> = operands.iter().filter_map(|o| number(o).ok()).collect();
        match (operation.operator.as_str(), numbers.as_slice()) {
            ("q", _) => self.saved.push(self.state.clone()),
            ("Q", _) => self.state = self.saved.pop().unwrap_or_else(|| self.state.clone()),
            ("cm", &[a, b, c, d, e, f]) => {
                self.state.to_paper = Matrix([a, b, c, d, e, f]).then(self.state.to_paper);
            }
            ("w", &[width]) => self.state.pen_width = width,
            ("d", _) => self.set_dash(operands.first())?,
            ("gs", _) => self.graphics_state(operands, resources)?,
            ("G", &[grey]) => self.state.stroke_colour = [grey; 3],
            ("g", &[grey]) => self.state.fill_colour = [grey; 3],
            ("RG" | "SC" | "SCN", &[r, g, b]) => self.state.stroke_colour = [r, g, b],
            ("rg" | "sc" | "scn", &[r, g, b]) => self.state.fill_colour = [r, g, b],

            ("m", &[x, y]) => {
                let start = self.state.to_paper.apply([x, y]);
                self.start(start);
            }
            ("l", &[x, y]) => {
                let end = self.state.to_paper.apply([x, y]);
                self.line_to(end);
            }
            ("c", &[a, b, c, d, e, f]) => self.curve([None, Some([a, b]), Some([c, d])], [e, f]),
            ("v", &[c, d, e, f]) => self.curve([None, None, Some([c, d])], [e, f]),
            ("y", &[a, b, e, f]) => self.curve([None, Some([a, b]), Some([e, f])], [e, f]),
            ("re", &[x, y, w, h]) => self.rectangle(x, y, w, h),
            ("h", _) => self.close(),

            ("S", _) => self.paint(true, false),
            ("s", _) => self.close_and_paint(false),
            ("f" | "F" | "f*", _) => self.paint(false, true),
            ("B" | "B*", _) => self.paint(true, true),
            ("b" | "b*", _) => self.close_and_paint(true),
            ("n", _) => self.paint(false, false),
            ("W" | "W*", _) => self.clips = true,

            ("BT", _) => {
                self.state.text = Matrix::IDENTITY;
                self.state.line = Matrix::IDENTITY;
                self.words = None;
            }
            ("ET", _) => self.page.texts.extend(self.words.take()),
            ("Tf", &[size]) => {
                self.state.font_size = size;
                self.state.font = self.resource(resources, b"Font", operands).ok();
            }
            ("TL", &[leading]) => self.state.leading = leading,
            ("Td", &[x, y]) => self.state.next_line(x, y),
            ("TD", &[x, y]) => {
                self.state.leading = -y;
                self.state.next_line(x, y);
            }
            ("T*", _) => self.state.next_line(0.0, -self.state.leading),
            ("Tm", &[a, b, c, d, e, f]) => {
                self.state.line = Matrix([a, b, c, d, e, f]);
                self.state.text = self.state.line;
            }
            ("Tj" | "TJ", _) => self.show(operands)?,
            ("'" | "\"", _) => {
                self.state.next_line(0.0, -self.state.leading);
                self.show(operands)?;
            }
            _ => {}
        }
        Ok(())
    }

    /// The dictionary that the first operand names in one category of the resources.
    fn resource(
        &self,
        resources: &'a Dictionary,
        category: &[u8],
        operands: &[Object],
    ) -> Result<&'a Dictionary, lopdf::Error> {
        let name = operands.first().unwrap_or(&Object::Null).as_name()?;
        let category = resources.get_deref(category, self.document)?.as_dict()?;
        category.get_deref(name, self.document)?.as_dict()
    }

    fn graphics_state(
        &mut self,
        operands: &[Object],
        resources: &'a Dictionary,
    ) -> Result<(), lopdf::Error> {
        let set = self.resource(resources, b"ExtGState", operands)?;
        if let Ok(width) = set.get_deref(b"LW", self.document) {
            self.state.pen_width = number(width)?;
        }
        if let Ok(dash) = set.get_deref(b"D", self.document) {
            self.set_dash(dash.as_array()?.first())?;
        }
        Ok(())
    }

    fn set_dash(&mut self, lengths: Option<&Object>) -> Result<(), lopdf::Error> {
        let lengths = lengths.unwrap_or(&Object::Null).as_array()?;
        self.state.dash = lengths.iter().map(number).collect::<Result<_, _>>()?;
        Ok(())
    }

    fn form(
        &mut self,
        operation: &Operation,
        resources: &'a Dictionary,
        depth: usize,
    ) -> Result<(), lopdf::Error> {
        let document = self.document;
        let name = operation.operands.first().unwrap_or(&Object::Null);
        let objects = resources.get_deref(b"XObject", document)?.as_dict()?;
        let stream = objects.get_deref(name.as_name()?, document)?.as_stream()?;
        let subtype = stream.dict.get(b"Subtype")?.as_name()?;
        if subtype != b"Form" || depth == DEEPEST_FORM {
            return Ok(());
        }
        let outside = self.state.clone();
        if let Ok(matrix) = stream.dict.get_deref(b"Matrix", document) {
            let entries: Vec<f64> = matrix
                .as_array()?
                .iter()
                .map(number)
                .collect::<Result<_, _>>()?;
            if let Ok(entries) = entries.try_into() {
                self.state.to_paper = Matrix(entries).then(self.state.to_paper);
            }
        }
        let own = stream.dict.get_deref(b"Resources", document);
        let own = own.and_then(Object::as_dict).unwrap_or(resources);
        self.draw(&stream.get_plain_content()?, own, depth + 1)?;
        self.state = outside;
        Ok(())
    }

    fn start(&mut self, at: Point) {
        self.path.push(Subpath {
            points: vec![at],
            closed: false,
        });
    }

    /// The open subpath; after `h` a new one begins where the last one did.
    fn open(&mut self) -> Option<&mut Subpath> {
        if self.path.last()?.closed {
            let start = *self.path.last()?.points.first()?;
            self.start(start);
        }
        self.path.last_mut()
    }

    fn line_to(&mut self, end: Point) {
        if let Some(subpath) = self.open() {
            subpath.points.push(end);
        }
    }

    /// A cubic to `end`; a control point that is `None` coincides with the current point.
    fn curve(&mut self, controls: [Option<Point>; 3], end: Point) {
        let to_paper = self.state.to_paper;
        if let Some(subpath) = self.open()
            && let Some(&current) = subpath.points.last()
        {
            let [p0, p1, p2] = controls.map(|c| c.map_or(current, |c| to_paper.apply(c)));
            flatten([p0, p1, p2, to_paper.apply(end)], &mut subpath.points);
        }
    }

    fn rectangle(&mut self, x: f64, y: f64, w: f64, h: f64) {
        let corners = [[x, y], [x + w, y], [x + w, y + h], [x, y + h]];
        self.path.push(Subpath {
            points: corners.map(|c| self.state.to_paper.apply(c)).to_vec(),
            closed: true,
        });
    }

    fn close(&mut self) {
        if let Some(subpath) = self.path.last_mut() {
            subpath.closed = true;
            drop_repeated_start(&mut subpath.points);
        }
    }

    fn close_and_paint(&mut self, fills: bool) {
        self.close();
        self.paint(true, fills);
    }

    fn paint(&mut self, strokes: bool, fills: bool) {
        let path = std::mem::take(&mut self.path);
        let state = &self.state;
        let clip = state.clip;
        if fills {
            let outline = |subpath: &Subpath| {
                let mut points = subpath.points.clone();
                drop_repeated_start(&mut points);
                points
            };
            self.page.fills.push(Fill {
                outlines: path.iter().map(outline).collect(),
                colour: state.fill_colour,
                clip,
            });
        }
        if self.clips {
            let points: Vec<Point> = path.iter().flat_map(|s| s.points.clone()).collect();
            self.state.clip = clip.meet(Bounds::around(&points));
            self.clips = false;
        }
        if strokes {
            let scale = self.state.to_paper.scale();
            let dash_mm: Vec<f64> = self.state.dash.iter().map(|on| on * scale).collect();
            let drawn = path.into_iter().filter(|s| s.points.len() > 1);
            self.page.strokes.extend(drawn.map(|subpath| Stroke {
                points: subpath.points,
                closed: subpath.closed,
                width_mm: self.state.pen_width * scale,
                dash_mm: dash_mm.clone(),
                colour: self.state.stroke_colour,
                clip,
            }));
        }
    }

    fn show(&mut self, operands: &[Object]) -> Result<(), lopdf::Error> {
        let to_paper = self.state.text.then(self.state.to_paper);
        let size_mm = self.state.font_size * to_paper.scale();
        let text = self.words.get_or_insert_with(|| Text {
            words: String::new(),
            at: to_paper.apply([0.0, 0.0]),
            size_mm,
            turned_deg: to_paper.direction().to_degrees(),
        });
        let Some(font) = self.state.font else {
            return Ok(());
        };
        // What a writer says its codes stand for goes before the names of its glyphs, which may be
        // of its own making (9.10.2).
        let mut font = font.clone();
        if font.has(b"ToUnicode") {
            font.remove(b"Encoding");
        }
        let encoding = font.get_font_encoding(self.document)?;
        let strings = operands.iter().flat_map(|operand| match operand {
            Object::Array(parts) => parts.iter().collect(),
            other => vec![other],
        });
        for string in strings.filter_map(|string| string.as_str().ok()) {
            text.words += &spelt_out(&Document::decode_text(&encoding, string)?);
        }
        Ok(())
    }
}

/// The text with every ligature of the face as the letters it stands for (Unicode, Alphabetic
/// Presentation Forms).
fn spelt_out(text: &str) -> String {
    const LIGATURES: [(char, &str); 5] = [
        ('\u{fb00}', "ff"),
        ('\u{fb01}', "fi"),
        ('\u{fb02}', "fl"),
        ('\u{fb03}', "ffi"),
        ('\u{fb04}', "ffl"),
    ];
    LIGATURES
        .iter()
        .fold(text.to_owned(), |text, (ligature, letters)| {
            text.replace(*ligature, letters)
        })
}

/// Some writers return to the start before they close; the paper shows no difference.
fn drop_repeated_start(points: &mut Vec<Point>) {
    while points.len() > 1 && points.first() == points.last() {
        points.pop();
    }
}
