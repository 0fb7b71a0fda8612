//! A drawing as SVG: one user unit is one millimetre, so `width="210mm" viewBox="0 0 210 …"`
//! prints true (SVG 1.1, chapter 7).

use svg::Document;
use svg::node::Node;
use svg::node::element::{Group, Path, Text, Title};

use crate::sheet::{Anchor, Drawing, Item, Layer, Pen, Point};
use crate::write::layer;
use crate::write::number::{self, NotFinite, mm};

/// Faces with tabular figures that come with the usual systems.
const FONTS: &str =
    "'Helvetica Neue', Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif";

/// What lines and letters are drawn in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ink {
    /// Black, as on paper.
    Black,
    /// Whatever colour text has where the drawing stands.
    Inherited,
}

/// How a drawing inside a page is told to those who do not see it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SvgName<'a> {
    /// Not at all: the same is said in words beside it.
    Hidden,
    /// As a picture with a name.
    Picture(&'a str),
}

/// A drawing as a file of its own, black on white, titled.
///
/// # Errors
/// A number that is not finite.
pub fn svg_document(drawing: &Drawing, title: &str) -> Result<String, NotFinite> {
    let document = root(drawing, Ink::Black)?;
    let titled = add_content(document, drawing, Some(title))?;
    Ok(file(&titled))
}

/// A drawing as a file for cutters and drawing programs: what each line means is a group with a
/// plain name, `cut-line`, `mark-line`, `zero-line`, `text` …, and opens at true size.
///
/// # Errors
/// A number that is not finite.
pub fn svg_layers(drawing: &Drawing, title: &str) -> Result<String, NotFinite> {
    let document = add_title(root(drawing, Ink::Black)?, title);
    let named = add_layers(document, drawing, |layer| {
        let words = layer::words(layer);
        let id = words.replace(' ', "-");
        Group::new().set("id", id).add(Title::new(words))
    })?;
    Ok(file(&named))
}

/// A drawing as an element for a page.
///
/// # Errors
/// A number that is not finite.
pub fn svg_inline(drawing: &Drawing, ink: Ink, name: SvgName) -> Result<String, NotFinite> {
    let root = root(drawing, ink)?;
    let element = match name {
        SvgName::Hidden => add_content(root.set("aria-hidden", "true"), drawing, None)?,
        SvgName::Picture(title) => {
            let root = root.set("role", "img").set("aria-label", legal(title));
            add_content(root, drawing, Some(title))?
        }
    };
    Ok(element.to_string())
}

fn file(document: &Document) -> String {
    let mut out = String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    out.push_str(&document.to_string());
    out.push('\n');
    out
}

/// The outer element: size in millimetres, ink, face.
fn root(drawing: &Drawing, ink: Ink) -> Result<Document, NotFinite> {
    let (width, height) = (mm(drawing.width)?, mm(drawing.height)?);
    let ink = match ink {
        Ink::Black => "#000",
        Ink::Inherited => "currentColor",
    };
    Ok(Document::new()
        .set("width", format!("{width}mm"))
        .set("height", format!("{height}mm"))
        .set("viewBox", format!("0 0 {width} {height}"))
        .set("stroke", ink)
        .set("fill", ink)
        .set("stroke-linejoin", "round")
        .set("font-family", FONTS)
        .set("font-variant-numeric", "tabular-nums"))
}

fn add_content(
    mut root: Document,
    drawing: &Drawing,
    title: Option<&str>,
) -> Result<Document, NotFinite> {
    if let Some(title) = title {
        root = add_title(root, title);
    }
    add_layers(root, drawing, |layer| {
        Group::new().set("class", layer.name())
    })
}

fn add_title(root: Document, title: &str) -> Document {
    root.add(Title::new(legal(title)))
}

/// Adds one group for each layer in use, begun by `group`.
fn add_layers(
    mut root: Document,
    drawing: &Drawing,
    group: impl Fn(Layer) -> Group,
) -> Result<Document, NotFinite> {
    let mut layers = Layers::default();
    for item in &drawing.items {
        match item {
            Item::Stroke {
                layer,
                pen,
                points,
                closed,
                filled,
            } => {
                let pen = (!*filled).then_some(*pen);
                let sheaf = layers.of(*layer);
                push_path(sheaf.path(pen), points, *closed)?;
            }
            Item::Text { .. } => {
                layers.of(Layer::Note).set(item)?;
            }
        }
    }
    for (layer, sheaf) in layers.0 {
        let mut group = group(layer);
        for (pen, data) in sheaf.paths {
            group = group.add(path(pen, data)?);
        }
        for (style, texts) in sheaf.texts {
            let mut words = style.group()?;
            for text in texts {
                words = words.add(text);
            }
            group = group.add(words);
        }
        root = root.add(group);
    }
    Ok(root)
}

/// The layers in use, in their own order.
#[derive(Default)]
struct Layers(Vec<(Layer, Sheaf)>);

impl Layers {
    fn of(&mut self, layer: Layer) -> &mut Sheaf {
        let at = self
            .0
            .binary_search_by_key(&layer, |(known, _)| *known)
            .unwrap_or_else(|at| {
                self.0.insert(at, (layer, Sheaf::default()));
                at
            });
        &mut self.0[at].1
    }
}

/// What one layer holds: one path for each pen and one group of words for each style, in the
/// order of first use.
#[derive(Default)]
struct Sheaf {
    paths: Vec<(Option<Pen>, String)>,
    texts: Vec<(Style, Vec<Text>)>,
}

/// What words have in common.
#[derive(Clone, Copy, PartialEq)]
struct Style {
    size: f64,
    anchor: Anchor,
    bold: bool,
}

impl Style {
    fn group(self) -> Result<Group, NotFinite> {
        let mut group = Group::new()
            .set("font-size", mm(self.size)?)
            .set("stroke", "none");
        match self.anchor {
            Anchor::Start => {}
            Anchor::Middle => group.assign("text-anchor", "middle"),
            Anchor::End => group.assign("text-anchor", "end"),
        }
        if self.bold {
            group.assign("font-weight", "bold");
        }
        Ok(group)
    }
}

impl Sheaf {
    /// Path data drawn with a pen; filled without one.
    fn path(&mut self, pen: Option<Pen>) -> &mut String {
        let at = self.paths.iter().position(|(known, _)| *known == pen);
        let at = at.unwrap_or_else(|| {
            self.paths.push((pen, String::new()));
            self.paths.len() - 1
        });
        &mut self.paths[at].1
    }

    /// Adds a line of words; strokes are added elsewhere.
    fn set(&mut self, item: &Item) -> Result<(), NotFinite> {
        let Item::Text {
            at,
            size,
            anchor,
            turn,
            bold,
            text,
        } = item
        else {
            return Ok(());
        };
        let style = Style {
            size: *size,
            anchor: *anchor,
            bold: *bold,
        };
        let (x, y, turn) = (mm(at.x)?, mm(at.y)?, mm(turn.deg())?);
        let node = Text::new(legal(text));
        let node = if turn == "0" {
            node.set("x", x).set("y", y)
        } else {
            node.set("transform", format!("translate({x} {y}) rotate({turn})"))
        };
        match self.texts.iter_mut().find(|(known, _)| *known == style) {
            Some((_, texts)) => texts.push(node),
            None => self.texts.push((style, vec![node])),
        }
        Ok(())
    }
}

fn path(pen: Option<Pen>, data: String) -> Result<Path, NotFinite> {
    let path = Path::new().set("d", data);
    let Some(pen) = pen else {
        return Ok(path.set("stroke", "none"));
    };
    let path = path.set("fill", "none").set("stroke-width", mm(pen.width)?);
    let dashes = pen
        .pattern
        .dashes()
        .iter()
        .map(|dash| mm(*dash))
        .collect::<Result<Vec<_>, _>>()?;
    Ok(if dashes.is_empty() {
        path
    } else {
        path.set("stroke-dasharray", dashes.join(" "))
    })
}

/// Appends `M x y L x y …`, `Z` when closed; level and upright segments as `H` and `V`.
fn push_path(data: &mut String, points: &[Point], closed: bool) -> Result<(), NotFinite> {
    let mut last: Option<Point> = None;
    for point in points {
        match last {
            #[expect(clippy::float_cmp, reason = "only exactly level segments are H")]
            Some(last) if last.y == point.y => {
                data.push('H');
                number::push(data, point.x, 3)?;
            }
            #[expect(clippy::float_cmp, reason = "only exactly upright segments are V")]
            Some(last) if last.x == point.x => {
                data.push('V');
                number::push(data, point.y, 3)?;
            }
            _ => {
                data.push(if last.is_some() { 'L' } else { 'M' });
                number::push(data, point.x, 3)?;
                data.push(' ');
                number::push(data, point.y, 3)?;
            }
        }
        last = Some(*point);
    }
    if closed {
        data.push('Z');
    }
    Ok(())
}

/// Text without the letters that XML 1.0 forbids even when escaped; the library escapes the rest.
fn legal(text: &str) -> String {
    text.chars()
        .filter(|c| {
            matches!(c, '\t' | '\n' | '\r' | '\u{20}'..='\u{d7ff}' | '\u{e000}'..='\u{fffd}'
                | '\u{10000}'..='\u{10ffff}')
        })
        .collect()
}
