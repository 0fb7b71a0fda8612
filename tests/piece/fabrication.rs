//! Pieces made in space: a frame is designed as places and directions in space, the piece that
//! goes into it is typed as a user would measure it, and then made from what is printed alone
//! (marks, strokes, turns, bends). Put on its main with end A, its end B must sit on its own main.
//!
//! Nothing here uses the project's cut lines or its frames along the tube: mains are what they
//! are, as distances to their surfaces, and the tube is folded bend by bend.

use std::f64::consts::TAU;

use copewright::cope::CutMethod;
use copewright::piece::{Clamps, Clash, LINE_TOLERANCE, Marks, PaperPoint, PaperRun, Piece, Side};
use copewright::units::{Angle, Length};

use crate::design::Design;
use crate::random::Random;
use crate::vector::{Vector, cross, dot, length, less, scaled, sum, turned, unit};
use crate::{deg, mm};

/// Pieces of each kind.
const PIECES: usize = 120;

/// Largest gap anywhere, mm.
pub const GAP: f64 = 0.1;

/// All that is printed for a piece: what a hand needs and no more.
#[derive(Clone)]
pub struct Printed {
    marks: Marks,
    pub strips: [Strip; 2],
}

#[derive(Clone)]
pub struct Strip {
    /// Once round on paper.
    pub width: f64,
    /// Strokes, from the zero line to the left; none for an end that is not coped.
    pub line: Vec<PaperRun>,
    /// Where the heel is, from the zero line to the left.
    heel: f64,
    mark_to_centre: f64,
}

impl Printed {
    pub fn of(piece: &Piece) -> Self {
        let strips = Side::BOTH.map(|side| {
            let Some(template) = piece.end(side).template() else {
                // The end of the tube is its mark and its joint centre.
                return Strip {
                    width: 1.0,
                    line: Vec::new(),
                    heel: 0.0,
                    mark_to_centre: 0.0,
                };
            };
            Strip {
                width: template.wrap().width().mm(),
                line: template.line(),
                heel: template.heel().point.around.mm(),
                mark_to_centre: template.mark_to_centre().mm(),
            }
        });
        Self {
            marks: piece.marks(mm(0.0)),
            strips,
        }
    }
}

const X: Vector = [1.0, 0.0, 0.0];
const Z: Vector = [0.0, 0.0, 1.0];

/// The straight blank: end A at the origin, the tube along Z, the zero line on the side of X.
struct Blank<'a> {
    printed: &'a Printed,
}

impl Blank<'_> {
    /// Way out of the tube's wall at a place on the paper of an end.
    ///
    /// The strip is read from outside with the cut on top: who looks along d with u on top has
    /// d × u on the right, and the strip grows to the left.
    fn outwards(&self, side: Side, around: f64) -> Vector {
        let top = match side {
            Side::A => scaled(Z, -1.0),
            Side::B => Z,
        };
        let looking = scaled(X, -1.0);
        let left = scaled(cross(looking, top), -1.0);
        let (sin, cos) = (TAU * around / self.printed.strips[side.index()].width).sin_cos();
        sum(scaled(X, cos), scaled(left, sin))
    }

    /// Height on the blank of a place above the mark line of an end.
    fn height(&self, side: Side, above_mark: f64) -> f64 {
        let own = self.printed.marks.blank.own[side.index()].exact.mm();
        match side {
            Side::A => own - above_mark,
            Side::B => self.printed.marks.blank.length.exact.mm() - own + above_mark,
        }
    }

    /// A place of the blank once all bends behind end A are made.
    fn folded(&self, mut place: Vector) -> Vector {
        let height = place[2];
        for bend in self.printed.marks.bends.iter().rev() {
            let start = bend.from_blank.exact.mm();
            let arc = bend.arc.exact.mm();
            if height <= start {
                continue;
            }
            assert!(height >= start + arc, "a cut inside a bend");
            // Sighted along the tube, clockwise from the zero line on top goes to the right.
            let right = cross(Z, X);
            let (sin, cos) = bend.outside.rad().sin_cos();
            let out = sum(scaled(X, cos), scaled(right, sin));
            // What lies behind the bend comes to its start and swings about the bend's axis, away
            // from the outside.
            let hinge = sum(scaled(Z, start), scaled(out, -bend.clr.mm()));
            let arm = less(sum(place, scaled(Z, -arc)), hinge);
            place = sum(hinge, turned(arm, cross(out, Z), bend.angle.rad()));
        }
        place
    }
}

/// The largest gap at each end of a piece made from what is printed and put into its frame.
pub fn gaps(design: &Design, printed: &Printed) -> [f64; 2] {
    let blank = Blank { printed };
    // End A goes on its main: joint centre on joint centre, heel on heel.
    let [centre, body, heel] = design.place(Side::A);
    let own_heel = blank.outwards(Side::A, printed.strips[0].heel);
    let own_centre = blank.height(Side::A, printed.strips[0].mark_to_centre);
    let into_frame = |place: Vector| {
        let [x, y, z] = less(place, scaled(Z, own_centre));
        // Components along the heel, across, and along the tube.
        let (along, across) = (
            x * own_heel[0] + y * own_heel[1],
            y * own_heel[0] - x * own_heel[1],
        );
        let side = cross(body, heel);
        let lateral = sum(scaled(heel, along), scaled(side, across));
        sum(centre, sum(lateral, scaled(body, z)))
    };
    let (bore, outside) = (design.outside / 2.0 - design.wall, design.outside / 2.0);
    Side::BOTH.map(|side| {
        let radii: Vec<f64> = match design.methods[side.index()] {
            CutMethod::Saw => vec![outside],
            CutMethod::Bore => vec![bore],
            CutMethod::Square => (0..=80)
                .map(|part| bore + (outside - bore) * f64::from(part) / 80.0)
                .collect(),
        };
        let strip = &printed.strips[side.index()];
        let mut worst = 0.0_f64;
        for run in strip.line.iter().filter(|run| !run.beside) {
            // All along the strokes, not only at their corners; but for their ends, which may be
            // where the tube begins to pass beside its main.
            // Where the cut steps, from one main or leg to another, the stroke goes straight up to
            // within the tolerance of a line, and is on neither.
            let steps = |pair: &&[PaperPoint]| {
                let across = (pair[1].around - pair[0].around).abs();
                let up = (pair[1].above_mark - pair[0].above_mark).abs();
                across < mm(1e-6) || (across < LINE_TOLERANCE && up > mm(1.0))
            };
            let chords = run.points.windows(2).filter(|pair| !steps(pair));
            let along = chords.flat_map(|pair| {
                [0.1, 0.5, 0.8].map(|part| {
                    let between = |from: Length, to: Length| (from + (to - from) * part).mm();
                    (
                        between(pair[0].around, pair[1].around),
                        between(pair[0].above_mark, pair[1].above_mark),
                    )
                })
            });
            for (around, above_mark) in along {
                let out = blank.outwards(side, around);
                let height = blank.height(side, above_mark);
                let nearest = radii
                    .iter()
                    .map(|radius| {
                        let place = sum(scaled(Z, height), scaled(out, *radius));
                        design.distance(side, into_frame(blank.folded(place)))
                    })
                    .fold(f64::INFINITY, f64::min);
                worst = worst.max(nearest.abs());
            }
        }
        worst
    })
}

/// Random designs whose ends reach their mains.
fn designs(seed: u64, bends: impl Fn(usize) -> usize) -> impl Iterator<Item = (Design, Piece)> {
    let mut random = Random(seed);
    (0..)
        .filter_map(move |number| {
            let design = Design::random(&mut random, bends(number));
            let piece = design.piece()?;
            Some((design, piece))
        })
        .take(PIECES)
}

fn straight() -> impl Iterator<Item = (Design, Piece)> {
    designs(1, |_| 0)
}

fn bent() -> impl Iterator<Item = (Design, Piece)> {
    designs(2, |number| 1 + number % 4)
}

#[test]
fn pieces_made_from_what_is_printed_fit_their_frames() {
    let (mut worst, mut sure) = ([0.0_f64; 2], 0);
    for (design, piece) in straight().chain(bent()) {
        // What hangs over a bend is said, and no part of this test.
        let over: Vec<Clash> = piece.clashes(&Clamps::default());
        assert!(
            !over.iter().any(|clash| matches!(clash, Clash::Cut { .. })),
            "{over:?}"
        );
        let found = gaps(&design, &Printed::of(&piece));
        assert!(found.iter().all(|gap| *gap <= GAP), "{found:?}: {design:?}");
        worst = [worst[0].max(found[0]), worst[1].max(found[1])];
        sure += 1;
    }
    assert_eq!(sure, 2 * PIECES);
    println!("largest gaps at ends A and B of {sure} pieces: {worst:.4?} mm");
}

/// Everything that can be turned the wrong way round must be noticed.
#[test]
fn what_is_turned_the_wrong_way_does_not_fit() {
    let swapped = |angle: Angle| Angle::ZERO - angle;
    let mut tried = [0; 5];
    for (design, piece) in straight().chain(bent()).step_by(3) {
        let printed = Printed::of(&piece);
        let mut wrong = |slip: usize, wrong: &Printed| {
            let found = gaps(&design, wrong);
            let worst = found[0].max(found[1]);
            assert!(
                worst > GAP,
                "slip {slip} is not noticed: {worst} {design:?}"
            );
            tried[slip] += 1;
        };
        // The strip of end B read the wrong way round: its turns run with the piece's.
        let mut slip = printed.clone();
        for run in &mut slip.strips[1].line {
            for point in &mut run.points {
                point.around = mm(slip.strips[1].width) - point.around;
            }
        }
        // Now and then a strip happens to be its own mirror image about the zero line.
        let template = piece.end(Side::B).template().unwrap();
        let lopsided = (1..180)
            .map(|step| {
                let height = |turn: f64| template.station(deg(turn)).point.above_mark;
                let turn = f64::from(step);
                (height(turn) - height(-turn)).abs().mm()
            })
            .fold(0.0, f64::max);
        if lopsided > 1.0 {
            wrong(0, &slip);
        } else {
            println!("a strip that is lopsided by {lopsided:.3} mm only");
        }
        // Heel B on the other side of the zero line, its strip moved with it.
        let heel = piece.heel(Side::B).unwrap();
        if heel.rad().sin().abs() > 0.05 {
            let turned = piece.end(Side::B).template().unwrap().turned(heel * 2.0);
            let mut slip = printed.clone();
            slip.strips[1].line = turned.line();
            wrong(1, &slip);
        }
        // A bend plane on the other side.
        for bend in 1..printed.marks.bends.len() {
            let outside = printed.marks.bends[bend].outside;
            if outside.rad().sin().abs() > 0.05 {
                let mut slip = printed.clone();
                slip.marks.bends[bend].outside = swapped(outside);
                wrong(2, &slip);
            }
        }
        // Bent towards the outside line.
        if !printed.marks.bends.is_empty() {
            let mut slip = printed.clone();
            slip.marks.bends[0].outside = slip.marks.bends[0].outside + Angle::HALF;
            wrong(3, &slip);
        }
        // A mark half a millimetre off.
        let mut slip = printed.clone();
        slip.marks.blank.own[1].exact += mm(0.5);
        wrong(4, &slip);
    }
    println!("slips that were noticed: {tried:?}");
    assert!(tried.iter().all(|count| *count > 20), "{tried:?}");
}

#[test]
fn frames_along_the_tube_are_where_folding_puts_it() {
    for (_, piece) in bent().take(60) {
        let printed = Printed::of(&piece);
        let blank = Blank { printed: &printed };
        let radius = piece.tube().outside_radius();
        let long = piece.end(Side::A).centre_to_long().mm();
        let grip = piece.grip(Side::A).mm();
        let developed = piece.line().developed().mm();
        let in_bend = |along: f64| {
            let spans = piece.line().spans();
            spans
                .iter()
                .any(|span| along > span.start.mm() && along < span.end.mm())
        };
        let mut random = Random(developed.to_bits());
        for _ in 0..40 {
            let along = random.within(-50.0, developed + 50.0);
            if in_bend(along) {
                continue;
            }
            let turn = random.within(0.0, TAU);
            // On the blank, whose origin is its end A.
            let (sin, cos) = turn.sin_cos();
            let on_blank = [radius.mm() * cos, radius.mm() * sin, along - long + grip];
            let folded = sum(blank.folded(on_blank), scaled(Z, long - grip));
            let frame = piece.line().frame_at(mm(along));
            let own = frame.around(Angle::from_rad(turn), radius);
            assert!(length(less(own, folded)) < 1e-8, "{own:?} {folded:?}");
        }
        // And inside a bend the frame moves on smoothly along its arc.
        for (span, bend) in piece.line().spans().iter().zip(piece.line().bends()) {
            let middle = piece.line().frame_at((span.start + span.end) / 2.0);
            let [start, end] = [span.start, span.end].map(|at| piece.line().frame_at(at));
            let across = less(end.origin, start.origin);
            let sag = bend.clr().mm() * (1.0 - (bend.angle().rad() / 2.0).cos());
            let chord = 2.0 * bend.clr().mm() * (bend.angle().rad() / 2.0).sin();
            assert!((length(across) - chord).abs() < 1e-8);
            let out = less(middle.origin, scaled(sum(start.origin, end.origin), 0.5));
            assert!((length(out) - sag).abs() < 1e-8);
            // The middle lies on the side of the outside line, and moves along the chord.
            assert!(dot(out, middle.around_way(bend.outside())) > 0.0);
            assert!(dot(middle.z, unit(across)) > 1.0 - 1e-12);
        }
    }
}

trait AroundWay {
    fn around_way(&self, turn: Angle) -> Vector;
}

impl AroundWay for copewright::piece::Frame {
    /// Way out of the tube at a turn.
    fn around_way(&self, turn: Angle) -> Vector {
        less(self.around(turn, mm(1.0)), self.origin)
    }
}

#[test]
fn end_frames_stand_where_the_frame_was_designed() {
    for (design, piece) in straight().take(20).chain(bent().take(40)) {
        // Into the design's space by end A alone.
        let [centre, body, heel] = design.place(Side::A);
        let start = piece.end_frame(Side::A);
        let into = |way: Vector| {
            let parts = [start.x, start.y, start.z].map(|axis| dot(axis, way));
            let side = cross(body, heel);
            sum(
                sum(scaled(heel, parts[0]), scaled(side, parts[1])),
                scaled(body, parts[2]),
            )
        };
        let end = piece.end_frame(Side::B);
        let [to, back, toe] = design.place(Side::B);
        let found = sum(centre, into(end.origin));
        assert!(length(less(found, to)) < 1e-6, "{found:?} {to:?}");
        assert!(length(less(into(end.z), back)) < 1e-7);
        assert!(length(less(into(end.x), toe)) < 1e-7);
        let apart = length(less(to, centre));
        assert!((piece.centres_apart().mm() - apart).abs() < 1e-6);
    }
}
