//! The lines of a main as they are seen square to it and to the branch, kind by kind.

use std::f64::consts::{PI, TAU};

use crate::joint::{BentTube, Main, RectangularSection, Shape, Surface};
use crate::sheet::Pen;
use crate::sheet::sketch::section;
use crate::sheet::sketch::sight::{Place, Sight};

/// A main's lines in the picture's own space.
pub struct Outline {
    /// Each may still be hidden in part.
    pub lines: Vec<(Pen, Vec<Place>)>,
    /// Where the drawing of it stops.
    pub caps: Vec<Vec<Place>>,
    /// Its axis, if it has one.
    pub axis: Vec<Place>,
    /// The end whose breadth is dimensioned: its two edges, and the direction out of it.
    pub end: Option<End>,
}

/// An end of the drawn main: (along, up).
#[derive(Debug, Clone, Copy)]
pub struct End {
    pub edges: [(f64, f64); 2],
    pub out: (f64, f64),
}

/// The main's lines from `left` to `right` of the landing.
pub fn outline(sight: &Sight, left: f64, right: f64) -> Outline {
    match (sight.main.shape(), sight.main.surface()) {
        (Shape::Plate, _) => plate(sight, left, right),
        (Shape::Mitre { .. }, _) => other_tube(sight, right),
        (Shape::Rectangular(section), _) => rectangular(sight, section, left, right),
        (Shape::Bent { .. }, Surface::Bent(tube)) => bent(tube, left, right),
        _ => round(sight, left, right),
    }
}

/// The other mains of the end, lightly: where their outlines run in this picture. A plate shows only
/// in line with the sight.
pub fn others(sight: &Sight) -> Vec<Vec<Place>> {
    let mains = sight.cope.joint().mains().enumerate();
    mains
        .filter(|(number, _)| *number != sight.which)
        .flat_map(|(_, main)| other(sight, main))
        .collect()
}

fn other(sight: &Sight, main: &Main) -> Vec<Vec<Place>> {
    /// Below this a direction runs along the sight, or a plane in line with it.
    const LEVEL: f64 = 1e-6;
    let seen = |place: Place| sight.seen_in_space(main.in_branch_frame(place));
    let origin = seen([0.0; 3]);
    let way = |direction: Place| {
        let end = seen(direction);
        [0, 1, 2].map(|axis| end[axis] - origin[axis])
    };
    let plus = |a: Place, b: Place, by: f64| [0, 1, 2].map(|axis| a[axis] + by * b[axis]);
    let [axis, side, up] = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]].map(way);
    let length = main.crown().mm() + 1.5 * sight.r;
    if let Surface::Bent(tube) = main.surface() {
        const STEPS: u32 = 40;
        let edge = |reach: f64| {
            let stations = (0..=STEPS).map(|step| length * (f64::from(step) / 20.0 - 1.0));
            let place = |station: f64| {
                let (place, tangent) = tube.centre_line(station);
                let ([along, side, up], [dx, _, dy]) = (seen(place), way(tangent));
                let run = dx.hypot(dy);
                let beside = [along - reach * dy / run, side, up + reach * dx / run];
                (run > LEVEL).then_some(beside)
            };
            stations.filter_map(place).collect::<Vec<Place>>()
        };
        return [tube.radius, -tube.radius].map(edge).to_vec();
    }
    let Some(section) = section::of(main) else {
        let in_line = up[1].abs() < LEVEL;
        let flat = if axis[1].abs() < LEVEL { axis } else { side };
        let ends = [-length, length].map(|by| plus(origin, flat, by));
        return in_line.then(|| ends.to_vec()).into_iter().collect();
    };
    // The other tube of a mitre lies as far beyond the plane's line as the branch before it.
    let (axis, up, from) = if main.is_plane() {
        let (sin, cos) = main.sin_cos();
        let turned = |a: Place, b: Place, by: f64| [0, 1, 2].map(|i| cos * a[i] + by * sin * b[i]);
        let tilted = |a: Place, b: Place, by: f64| [0, 1, 2].map(|i| sin * b[i] + by * cos * a[i]);
        (turned(axis, up, -1.0), tilted(axis, up, 1.0), 0.0)
    } else {
        (axis, up, -length)
    };
    let run = axis[0].hypot(axis[2]);
    if run < LEVEL {
        let mut ring: Vec<Place> = section
            .0
            .iter()
            .map(|(across, high)| plus(plus(origin, side, *across), up, *high))
            .collect();
        ring.extend(ring.first().copied());
        return vec![ring];
    }
    // Square to the axis in the picture.
    let normal = (-axis[2] / run, axis[0] / run);
    let reach = |place: &Place| place[0] * normal.0 + place[2] * normal.1;
    let corners = section
        .0
        .iter()
        .map(|(across, high)| plus(plus([0.0; 3], side, *across), up, *high));
    let highest = corners
        .clone()
        .reduce(|a, b| if reach(&b) > reach(&a) { b } else { a });
    let lowest = corners.reduce(|a, b| if reach(&b) < reach(&a) { b } else { a });
    [highest, lowest]
        .into_iter()
        .flatten()
        .map(|edge| {
            let foot = plus(origin, edge, 1.0);
            vec![plus(foot, axis, from), plus(foot, axis, length)]
        })
        .collect()
}

fn level(up: f64, left: f64, right: f64) -> Vec<Place> {
    vec![[left, 0.0, up], [right, 0.0, up]]
}

fn upright(along: f64, low: f64, high: f64) -> Vec<Place> {
    vec![[along, 0.0, low], [along, 0.0, high]]
}

fn round(sight: &Sight, left: f64, right: f64) -> Outline {
    let big = sight.crown;
    Outline {
        lines: vec![
            (Pen::BOLD, level(big, left, right)),
            (Pen::BOLD, level(-big, left, right)),
        ],
        caps: vec![upright(left, -big, big), upright(right, -big, big)],
        axis: level(0.0, left, right),
        end: Some(End {
            edges: [(left, big), (left, -big)],
            out: (-1.0, 0.0),
        }),
    }
}

fn plate(sight: &Sight, left: f64, right: f64) -> Outline {
    let low = -sight.depth;
    Outline {
        lines: vec![
            (Pen::BOLD, level(0.0, left, right)),
            (Pen::BOLD, level(low, left, right)),
        ],
        caps: vec![upright(left, low, 0.0), upright(right, low, 0.0)],
        axis: Vec::new(),
        end: None,
    }
}

/// The other tube of a mitre, from the dividing plane to the right.
fn other_tube(sight: &Sight, right: f64) -> Outline {
    let big = sight.crown;
    let (sin, cos) = (sight.theta / 2.0).sin_cos();
    let plane = |up: f64| up * cos / sin;
    Outline {
        lines: vec![
            (Pen::BOLD, level(big, plane(big), right)),
            (Pen::BOLD, level(-big, plane(-big), right)),
            (
                Pen::BOLD,
                vec![[plane(-big), 0.0, -big], [plane(big), 0.0, big]],
            ),
        ],
        caps: vec![upright(right, -big, big)],
        axis: level(0.0, 0.0, right),
        end: Some(End {
            edges: [(right, big), (right, -big)],
            out: (1.0, 0.0),
        }),
    }
}

/// Silhouettes, and the edges of the corners that the viewer sees.
fn rectangular(sight: &Sight, section: &RectangularSection, left: f64, right: f64) -> Outline {
    let radius = section.corner().mm();
    let mut lines = Vec::new();
    let mut drawn: Vec<f64> = Vec::new();
    let mut line = |pen: Pen, side: f64, up: f64| {
        let near = 1e-6 * sight.crown;
        if drawn.iter().all(|other| (other - up).abs() > near) {
            drawn.push(up);
            lines.push((pen, vec![[left, side, up], [right, side, up]]));
        }
    };
    let outline = section::Section(
        section::corners(section)
            .iter()
            .map(|corner| corner.centre)
            .collect(),
    );
    for sign in [1.0, -1.0] {
        // Of a level face both ends are as high; the one near the viewer is seen.
        let extreme = outline.0.iter().copied().reduce(|a, b| {
            let higher = sign * (b.1 - a.1);
            let level = higher.abs() < 1e-9 * sight.crown;
            if (level && b.0 < a.0) || (!level && higher > 0.0) {
                b
            } else {
                a
            }
        });
        if let Some((side, up)) = extreme {
            line(Pen::BOLD, side, up + sign * radius);
        }
    }
    for corner in section::corners(section) {
        for normal in [corner.normal, corner.normal + PI / 2.0] {
            let (sin, cos) = normal.sin_cos();
            if cos < 1e-9 {
                let (side, up) = corner.centre;
                line(Pen::THIN, side + radius * cos, up + radius * sin);
            }
        }
    }
    Outline {
        lines,
        caps: [left, right]
            .map(|along| upright(along, -sight.crown, sight.crown))
            .to_vec(),
        axis: level(0.0, left, right),
        end: None,
    }
}

/// A bent tube: it is the balls along its centre line, so that it shows the discs along the centre
/// line's picture, and their outline is as far from that on either side.
fn bent(tube: &BentTube, left: f64, right: f64) -> Outline {
    const STEPS: u32 = 160;
    /// Below this the centre line runs straight towards or away from the viewer.
    const ALONG_SIGHT: f64 = 1e-6;
    let spine: Vec<(Place, Place)> = (0..=STEPS)
        .map(|step| left + (right - left) * f64::from(step) / f64::from(STEPS))
        .map(|distance| tube.centre_line(distance))
        .collect();
    let normal = |tangent: Place| {
        let length = tangent[0].hypot(tangent[2]);
        (length > ALONG_SIGHT).then(|| (-tangent[2] / length, tangent[0] / length))
    };
    let mut lines = Vec::new();
    for side in [tube.radius, -tube.radius] {
        let mut line: Vec<Place> = Vec::new();
        for (place, tangent) in &spine {
            if let Some((along, up)) = normal(*tangent) {
                line.push([place[0] + side * along, place[1], place[2] + side * up]);
            }
        }
        // Where the centre line turns back in the picture its two sides change places.
        let reach = 1.5 * tube.radius;
        let jump = |a: &Place, b: &Place| (a[0] - b[0]).hypot(a[2] - b[2]) < reach;
        lines.extend(
            line.chunk_by(jump)
                .filter(|part| part.len() > 1)
                .map(|part| (Pen::BOLD, part.to_vec())),
        );
    }
    for pair in spine.windows(2) {
        let ([a, _, c], [d, _, f]) = (pair[0].1, pair[1].1);
        if a * d + c * f < 0.0 {
            let [along, side, up] = pair[0].0;
            let ring = (0..=60).map(|step| TAU * f64::from(step) / 60.0);
            let ring = ring
                .map(|turn| {
                    let (sin, cos) = turn.sin_cos();
                    [along + tube.radius * cos, side, up + tube.radius * sin]
                })
                .collect();
            lines.push((Pen::BOLD, ring));
        }
    }
    let mut end = None;
    let mut caps = Vec::new();
    for (place, tangent) in [spine.last(), spine.first()].into_iter().flatten() {
        let (along, up) = normal(*tangent).unwrap_or((0.0, 1.0));
        let edge = |side: f64| [place[0] + side * along, place[1], place[2] + side * up];
        let edges = [edge(tube.radius), edge(-tube.radius)];
        caps.push(edges.to_vec());
        end = Some(End {
            edges: edges.map(|[along, _, up]| (along, up)),
            out: (-up, along),
        });
    }
    Outline {
        lines,
        caps,
        axis: spine.into_iter().map(|(place, _)| place).collect(),
        end,
    }
}
