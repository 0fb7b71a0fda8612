//! Joints, printers and ways of looking at a page that all sheet tests share.

pub use copewright::cope::{Cope, CutMethod};
pub use copewright::job::{Orientation, Printer, PrinterError, Ruler};
pub use copewright::joint::{Joint, RoundTube};
pub use copewright::piece::{Template, Wrap, ordinates};
pub use copewright::sheet::{
    Anchor, Drawing, Item, Layer, Order, Packet, Pen, Point, SheetError, lay_out, lay_out_table,
};
pub use copewright::stock::Paper;
pub use copewright::units::{Angle, Denominator, Length, Unit, limited, write_length};
pub use copewright::write::{Ink, NotFinite, SvgName, csv, svg_document, svg_inline};

pub const LINK: &str =
    "https://copewright.example/#v=1&unit=mm&branch=42.4&wall=2.6&main=48.3&angle=60";

pub fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

/// A joint of the launching trolley, or of something much larger or smaller.
#[derive(Clone, Copy)]
pub struct Case {
    pub branch: f64,
    pub wall: f64,
    pub main: f64,
    pub angle: f64,
    pub offset: f64,
    pub method: CutMethod,
    pub heel: f64,
}

pub const USUAL: Case = Case {
    branch: 42.4,
    wall: 2.6,
    main: 48.3,
    angle: 60.0,
    offset: 0.0,
    method: CutMethod::Saw,
    heel: 0.0,
};

impl Case {
    pub fn template(&self) -> Template {
        let tube = RoundTube::new(mm(self.branch), mm(self.wall)).unwrap();
        let angle = Angle::from_deg(self.angle);
        let joint = Joint::round(tube, mm(self.main), angle, mm(self.offset)).unwrap();
        let cope = Cope::new(&joint, self.method, Length::ZERO).unwrap();
        let wrap = Wrap::computed(mm(self.branch), mm(0.1));
        Template::new(cope, wrap, Angle::from_deg(self.heel), mm(10.0))
    }
}

/// Ordinary, tiny, huge, shallow, hanging past, wider than the main, turned.
pub fn cases() -> Vec<Case> {
    vec![
        USUAL,
        Case {
            offset: 5.0,
            heel: 30.0,
            method: CutMethod::Square,
            ..USUAL
        },
        Case {
            offset: -7.0,
            heel: 211.0,
            angle: 47.0,
            ..USUAL
        },
        Case {
            branch: 3.0,
            wall: 0.5,
            main: 3.2,
            ..USUAL
        },
        Case {
            branch: 6.0,
            wall: 1.0,
            main: 8.0,
            offset: 1.0,
            ..USUAL
        },
        Case {
            branch: 12.0,
            wall: 1.0,
            main: 10.0,
            angle: 45.0,
            ..USUAL
        },
        Case {
            branch: 20.0,
            wall: 1.5,
            main: 25.0,
            angle: 30.0,
            heel: 90.0,
            ..USUAL
        },
        Case {
            branch: 42.4,
            main: 42.4,
            angle: 90.0,
            ..USUAL
        },
        Case {
            branch: 60.3,
            wall: 3.0,
            angle: 75.0,
            ..USUAL
        },
        Case {
            offset: 20.0,
            angle: 70.0,
            ..USUAL
        },
        Case {
            angle: 15.0,
            ..USUAL
        },
        Case {
            angle: 5.0,
            method: CutMethod::Square,
            ..USUAL
        },
        Case {
            branch: 76.1,
            wall: 3.2,
            main: 76.1,
            angle: 45.0,
            offset: -12.0,
            ..USUAL
        },
        Case {
            branch: 219.1,
            wall: 6.3,
            main: 273.0,
            ..USUAL
        },
        Case {
            branch: 219.1,
            wall: 6.3,
            main: 219.1,
            angle: 30.0,
            offset: 40.0,
            heel: 77.0,
            ..USUAL
        },
    ]
}

pub fn printer() -> Printer {
    Printer::new("by the window")
}

pub fn packet_on(case: Case, paper: Paper, printer: &Printer, label: &str, unit: Unit) -> Packet {
    let template = case.template();
    lay_out(&Order {
        template: &template,
        unit,
        label,
        link: LINK,
        date: "14 May 2026",
        paper,
        printer,
        saw: &[],
    })
    .unwrap()
}

pub fn packet(case: Case) -> Packet {
    packet_on(
        case,
        Paper::A4,
        &printer(),
        "Drawbar to axle beam",
        Unit::Millimetre,
    )
}

pub fn table_on(case: Case, paper: Paper, printer: &Printer, unit: Unit, divisions: u32) -> Packet {
    let template = case.template();
    let order = Order {
        template: &template,
        unit,
        label: "Drawbar to axle beam",
        link: LINK,
        date: "14 May 2026",
        paper,
        printer,
        saw: &[],
    };
    lay_out_table(&order, divisions)
}

/// Strokes of a layer: pen and points.
pub fn strokes(page: &Drawing, wanted: Layer) -> Vec<(Pen, &[Point])> {
    page.items
        .iter()
        .filter_map(|item| match item {
            Item::Stroke {
                layer,
                pen,
                points,
                filled: false,
                ..
            } if *layer == wanted => Some((*pen, points.as_slice())),
            _ => None,
        })
        .collect()
}

/// Room of a line of text at 0.6 em a letter, a capital's height up and a descender down.
pub fn text_box(item: &Item) -> Option<(f64, f64, f64, f64)> {
    let Item::Text {
        at,
        size,
        anchor,
        turn,
        text,
        ..
    } = item
    else {
        return None;
    };
    let width = 0.6 * size * text.chars().count() as f64;
    let start = match anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -width / 2.0,
        Anchor::End => -width,
    };
    let (sin, cos) = turn.rad().sin_cos();
    let corners = [
        (start, -0.75 * size),
        (start + width, -0.75 * size),
        (start, 0.2 * size),
        (start + width, 0.2 * size),
    ]
    .map(|(x, y)| (at.x + x * cos - y * sin, at.y + x * sin + y * cos));
    let low = |pick: fn(&(f64, f64)) -> f64| corners.iter().map(pick).fold(f64::MAX, f64::min);
    let high = |pick: fn(&(f64, f64)) -> f64| corners.iter().map(pick).fold(f64::MIN, f64::max);
    Some((low(|c| c.0), low(|c| c.1), high(|c| c.0), high(|c| c.1)))
}

pub fn texts(page: &Drawing) -> Vec<&str> {
    page.items
        .iter()
        .filter_map(|item| match item {
            Item::Text { text, .. } => Some(text.as_str()),
            Item::Stroke { .. } => None,
        })
        .collect()
}

/// All words of a page as one text, lines joined.
pub fn words(page: &Drawing) -> String {
    texts(page).join(" ")
}

/// Lengths of the long straight strokes of the rulers: across (x) and along (y).
pub fn rulers(page: &Drawing) -> (Vec<f64>, Vec<f64>) {
    let (mut across, mut along) = (Vec::new(), Vec::new());
    for (_, points) in strokes(page, Layer::Ruler) {
        let (dx, dy) = (
            (points[1].x - points[0].x).abs(),
            (points[1].y - points[0].y).abs(),
        );
        if dx > 50.0 && dy < 1e-9 {
            across.push(dx);
        }
        if dy > 50.0 && dx < 1e-9 {
            along.push(dy);
        }
    }
    across.sort_by(f64::total_cmp);
    along.sort_by(f64::total_cmp);
    (across, along)
}

pub fn assert_close(is: &[f64], expected: &[f64]) {
    assert_eq!(is.len(), expected.len(), "{is:?}");
    for (a, b) in is.iter().zip(expected) {
        assert!((a - b).abs() < 1e-9, "{is:?} instead of {expected:?}");
    }
}
