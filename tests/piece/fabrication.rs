//! Pieces made in space: a frame is designed as places and directions in space, the piece that
//! goes into it is typed as a user would measure it, and then made from what is printed alone
//! (marks, strokes, turns, bends). Put on its main with end A, its end B must sit on its own main.
//!
//! Nothing here uses the project's cut lines or its frames along the tube: mains are what they
//! are, as distances to their surfaces, and the tube is folded bend by bend.

use std::f64::consts::{PI, TAU};

use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Bend, Joint, Main, RectangularSection, RoundTube};
use copewright::piece::{
    Between, CentreLine, Clamps, Clash, End, LINE_TOLERANCE, Marks, PaperPoint, PaperRun, Piece,
    Side, TubeBend, Wrap,
};
use copewright::units::{Angle, Length};

use crate::random::Random;
use crate::vector::{
    Vector, cross, dot, length, less, scaled, square_to, sum, turn_about, turned, unit,
};
use crate::{deg, mm, tube};

/// Pieces of each kind.
const PIECES: usize = 150;

/// Largest gap anywhere, mm.
const GAP: f64 = 0.1;

/// What an end sits on, as it is measured. Lengths in mm, angles in degrees.
#[derive(Debug, Clone, Copy)]
enum Kind {
    Round(f64),
    Plate,
    /// The angle of the seat is that between the two tubes.
    Mitre,
    Rectangular {
        width: f64,
        height: f64,
        corner: f64,
        roll: f64,
    },
    /// Lands `station` from the middle of the bend, towards the heel; `facing` as in the joint.
    Bent {
        diameter: f64,
        clr: f64,
        bend: f64,
        station: f64,
        facing: f64,
    },
}

/// Distance, in the plane of a bend, of a place from its centre line. The first coordinate runs
/// along the tube from the landing, the second towards the centre of the bend.
fn off_bend([along, inwards]: [f64; 2], clr: f64, bend: f64, station: f64) -> f64 {
    let half = bend / 2.0;
    // A landing on a leg is as far from the end of the arc as it is beyond it.
    let on_arc = station.max(-clr * half).min(clr * half);
    let (along, landed) = (along - (on_arc - station), on_arc / clr);
    // How far round the centre, from the middle of the bend.
    let mut round = along.atan2(clr - inwards) + landed;
    if round > PI {
        round -= TAU;
    } else if round < -PI {
        round += TAU;
    }
    let mut least = f64::INFINITY;
    if round.abs() <= half {
        least = (along.hypot(clr - inwards) - clr).abs();
    }
    for end in [-half, half] {
        let (sin, cos) = (end - landed).sin_cos();
        let foot = [along - clr * sin, inwards - clr * (1.0 - cos)];
        let ahead = end.signum() * (foot[0] * cos + foot[1] * sin);
        let aside = foot[1] * cos - foot[0] * sin;
        least = least.min(if ahead >= 0.0 {
            aside.abs()
        } else {
            foot[0].hypot(foot[1])
        });
    }
    least
}

#[derive(Debug, Clone, Copy)]
struct Seat {
    kind: Kind,
    angle: f64,
    offset: f64,
    /// Of a further main: its turn about the branch and its shift along it.
    turn: f64,
    shift: f64,
}

impl Seat {
    /// As it is typed; `None` for a bent one of which a leg would lie along the branch.
    fn main(&self) -> Option<Main> {
        let (angle, offset) = (deg(self.angle), mm(self.offset));
        let main = match self.kind {
            Kind::Round(diameter) => Main::round(mm(diameter), angle, offset),
            Kind::Plate => Main::plate(angle),
            Kind::Mitre => Main::mitre(mm(40.0), angle),
            Kind::Bent {
                diameter,
                clr,
                bend,
                station,
                facing,
            } => {
                let bend = Bend::new(mm(clr), deg(bend), mm(station), deg(facing)).unwrap();
                Main::bent(mm(diameter), bend, angle, offset)
            }
            Kind::Rectangular {
                width,
                height,
                corner,
                roll,
            } => {
                let section =
                    RectangularSection::new(mm(width), mm(height), mm(corner), deg(roll)).unwrap();
                Main::rectangular(section, angle, offset)
            }
        };
        let placed = main.ok()?.turned(deg(self.turn));
        Some(placed.shifted(mm(self.shift)))
    }

    /// Distance of a place from the main's surface, below 0 inside it. The branch's joint centre
    /// is at `centre`, its body lies towards `body` and its heel towards `heel`.
    fn distance(&self, [centre, body, heel]: [Vector; 3], place: Vector) -> f64 {
        let heel = turned(heel, body, self.turn.to_radians());
        let side = cross(body, heel);
        let from = less(place, sum(centre, scaled(body, self.shift)));
        // Mitred tubes meet on the plane half-way between them.
        let half = if matches!(self.kind, Kind::Mitre) {
            0.5
        } else {
            1.0
        };
        let (sin, cos) = (half * self.angle.to_radians()).sin_cos();
        // The main leans from the body towards the heel; up is square to it, towards the body.
        let up = dot(from, less(scaled(body, sin), scaled(heel, cos)));
        let across = dot(from, side) - self.offset;
        match self.kind {
            Kind::Round(diameter) => across.hypot(up) - diameter / 2.0,
            Kind::Plate | Kind::Mitre => up,
            Kind::Bent {
                diameter,
                clr,
                bend,
                station,
                facing,
            } => {
                let along = dot(from, sum(scaled(body, cos), scaled(heel, sin)));
                let (sin, cos) = facing.to_radians().sin_cos();
                let inwards = up * cos + across * sin;
                let out_of_plane = across * cos - up * sin;
                let in_plane = off_bend([along, inwards], clr, bend.to_radians(), station);
                in_plane.hypot(out_of_plane) - diameter / 2.0
            }
            Kind::Rectangular {
                width,
                height,
                corner,
                roll,
            } => {
                let (sin, cos) = roll.to_radians().sin_cos();
                let out = (across * cos + up * sin).abs() - (width / 2.0 - corner);
                let high = (up * cos - across * sin).abs() - (height / 2.0 - corner);
                out.max(0.0).hypot(high.max(0.0)) + out.max(high).min(0.0) - corner
            }
        }
    }
}

/// A frame in space and the tube that goes into it.
#[derive(Debug, Clone)]
struct Design {
    outside: f64,
    wall: f64,
    method: CutMethod,
    /// Joint centre A, the vertices of the bends, joint centre B.
    corners: Vec<Vector>,
    radii: Vec<f64>,
    /// Where the heel of each end is to point, square to the tube there.
    heels: [Vector; 2],
    seats: [Vec<Seat>; 2],
    grips: [f64; 2],
    /// Where a straight tube has its zero line.
    zero: Vector,
    between: Between,
}

impl Design {
    fn random(random: &mut Random, bends: usize) -> Self {
        let outside = random.within(16.0, 60.0);
        let mut seats = [0; 2].map(|_| vec![seat(random, outside)]);
        for own in &mut seats {
            // Now and then an end sits on two mains.
            if random.below(4) == 0 {
                own.push(Seat {
                    turn: random.within(40.0, 320.0),
                    shift: random.within(-0.4, 0.2) * outside,
                    ..seat(random, outside)
                });
            }
        }
        let mut way = random.direction();
        let heel_a = square_to(random.direction(), way);
        let zero = square_to(random.direction(), way);
        let mut corners = vec![scaled(random.direction(), 700.0)];
        let mut radii = Vec::new();
        let angles: Vec<f64> = (0..bends).map(|_| random.within(12.0, 150.0)).collect();
        let mut taken = 0.0;
        for angle in &angles {
            let radius = random.within(1.5, 5.0) * outside;
            let tangent = radius * (angle.to_radians() / 2.0).tan();
            // Room for a steep cut and its template, more than enough.
            let leg = taken + random.within(480.0, 700.0) + tangent;
            corners.push(sum(corners[corners.len() - 1], scaled(way, leg)));
            radii.push(radius);
            taken = tangent;
            let aside = square_to(random.direction(), way);
            way = turned(way, aside, angle.to_radians());
        }
        let leg = taken + random.within(900.0, 1200.0);
        corners.push(sum(corners[corners.len() - 1], scaled(way, leg)));
        Self {
            outside,
            wall: random.within(0.03, 0.2) * outside,
            method: CutMethod::ALL[random.below(3)],
            corners,
            radii,
            heels: [heel_a, square_to(random.direction(), way)],
            seats,
            grips: [0; 2].map(|_| random.within(0.0, 80.0)),
            zero,
            between: [Between::Centres, Between::LongPoints, Between::Blank][random.below(3)],
        }
    }

    fn tube(&self) -> RoundTube {
        tube(self.outside, self.wall)
    }

    fn cope(&self, side: Side) -> Option<Cope> {
        let mut seats = self.seats[side.index()].iter();
        let mut joint = Joint::new(self.tube(), seats.next()?.main()?).ok()?;
        for seat in seats {
            joint = joint.and(seat.main()?).ok()?;
        }
        Cope::new(&joint, self.method, mm(0.0)).ok()
    }

    /// The piece as it is typed: bends and heels by what is measured in the frame. `None` where an
    /// end does not reach its main.
    fn piece(&self) -> Option<Piece> {
        let ways: Vec<Vector> = self
            .corners
            .windows(2)
            .map(|pair| unit(less(pair[1], pair[0])))
            .collect();
        let legs: Vec<f64> = self
            .corners
            .windows(2)
            .map(|pair| length(less(pair[1], pair[0])))
            .collect();
        // The scribed line goes along: at each bend it turns with the tube, about the bend's axis.
        let mut zero = if ways.len() > 1 {
            scaled(square_to(ways[1], ways[0]), -1.0)
        } else {
            self.zero
        };
        // Clockwise for someone who looks along the tube is right-handed about the way he looks.
        let heel_a = turn_about(ways[0], zero, self.heels[0]);
        let mut more = Vec::new();
        for (bend, pair) in ways.windows(2).enumerate() {
            let angle = dot(pair[0], pair[1]).acos();
            let outside = scaled(square_to(pair[1], pair[0]), -1.0);
            let turn = turn_about(pair[0], zero, outside);
            let own = TubeBend::new(
                mm(self.radii[bend]),
                Angle::from_rad(angle),
                Angle::from_rad(turn),
            )
            .unwrap();
            more.push((own, mm(legs[bend + 1])));
            zero = turned(zero, unit(cross(pair[0], pair[1])), angle);
        }
        let heel_b = turn_about(ways[ways.len() - 1], zero, self.heels[1]);
        let line = CentreLine::from_legs(mm(legs[0]), &more).unwrap();
        let wrap = Wrap::computed(mm(self.outside), mm(0.12));
        let mut ends = Vec::new();
        for (side, heel) in [(Side::A, heel_a), (Side::B, heel_b)] {
            let cope = self.cope(side)?;
            ends.push(End::coped(
                side,
                cope,
                wrap,
                Angle::from_rad(heel),
                mm(10.0),
            ));
        }
        let ends: [End; 2] = ends.try_into().unwrap();
        let grips = self.grips.map(mm);
        let by_centres = Piece::new(self.tube(), ends, line, Between::Centres, grips).unwrap();
        // Typed in any of the three ways.
        let straights = by_centres.straights(self.between);
        let mut typed = CentreLine::straight(straights[0]);
        for (bend, straight) in by_centres.line().bends().zip(&straights[1..]) {
            typed = typed.bent(*bend, *straight);
        }
        let ends = Side::BOTH.map(|side| by_centres.end(side).clone());
        Some(Piece::new(self.tube(), ends, typed, self.between, grips).unwrap())
    }

    /// Joint centre, way into the body, and heel of an end.
    fn place(&self, side: Side) -> [Vector; 3] {
        let count = self.corners.len();
        let (centre, next) = match side {
            Side::A => (self.corners[0], self.corners[1]),
            Side::B => (self.corners[count - 1], self.corners[count - 2]),
        };
        [centre, unit(less(next, centre)), self.heels[side.index()]]
    }

    /// Distance from the nearest of the mains of an end.
    fn distance(&self, side: Side, place: Vector) -> f64 {
        self.seats[side.index()]
            .iter()
            .map(|seat| seat.distance(self.place(side), place))
            .fold(f64::INFINITY, f64::min)
    }
}

fn seat(random: &mut Random, outside: f64) -> Seat {
    let size = random.within(1.0, 2.2) * outside;
    let kind = match random.below(7) {
        0 => Kind::Plate,
        2 => Kind::Mitre,
        3 => {
            let (clr, bend) = (random.within(1.6, 4.0) * size, random.within(30.0, 180.0));
            Kind::Bent {
                diameter: size,
                clr,
                bend,
                station: random.within(-0.8, 0.8) * clr * bend.to_radians(),
                facing: random.within(-180.0, 180.0),
            }
        }
        1 => {
            let height = random.within(0.8, 1.5) * size;
            Kind::Rectangular {
                width: size,
                height,
                corner: random.within(0.02, 0.3) * size.min(height),
                roll: random.within(-180.0, 180.0),
            }
        }
        _ => Kind::Round(size),
    };
    // Offsets well away from 0, so that nothing is its own mirror image by chance; a plane has
    // none.
    let aside = random.within(0.1, 0.35) * size;
    let way = if random.below(2) == 0 { 1.0 } else { -1.0 };
    let angle = random.within(28.0, 86.0);
    let plane = matches!(kind, Kind::Plate | Kind::Mitre);
    Seat {
        kind,
        angle: if matches!(kind, Kind::Mitre) {
            2.0 * angle
        } else {
            angle
        },
        offset: if plane { 0.0 } else { aside * way },
        turn: 0.0,
        shift: 0.0,
    }
}

/// All that is printed for a piece: what a hand needs and no more.
#[derive(Clone)]
struct Printed {
    marks: Marks,
    strips: [Strip; 2],
}

#[derive(Clone)]
struct Strip {
    /// Once round on paper.
    width: f64,
    /// Strokes, from the zero line to the left.
    line: Vec<PaperRun>,
    /// Where the heel is, from the zero line to the left.
    heel: f64,
    mark_to_centre: f64,
}

impl Printed {
    fn of(piece: &Piece) -> Self {
        let strips = Side::BOTH.map(|side| {
            let template = piece.end(side).template().unwrap();
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
fn gaps(design: &Design, printed: &Printed) -> [f64; 2] {
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
    let radii: Vec<f64> = match design.method {
        CutMethod::Saw => vec![outside],
        CutMethod::Bore => vec![bore],
        CutMethod::Square => (0..=80)
            .map(|part| bore + (outside - bore) * f64::from(part) / 80.0)
            .collect(),
    };
    Side::BOTH.map(|side| {
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
                [0.1, 0.3, 0.5, 0.7, 0.9].map(|part| {
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
