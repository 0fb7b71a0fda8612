//! The demo job made from what is printed and put into its frame: `docs/demo.md` as places and
//! directions in space, against the numbers typed in the job.

use copewright::cope::CutMethod::{self, Saw, Square};
use copewright::job::list::{Job, demo};
use copewright::job::{Draft, PieceDraft, read, read_piece};
use copewright::piece::{Clamps, Piece, Side};
use copewright::units::{Denominator, Unit};

use crate::design::{Design, Kind, Seat};
use crate::fabrication::{GAP, Printed, gaps};
use crate::mm;
use crate::vector::{Vector, cross, dot, length, less, scaled, square_to, sum, unit};

const X: Vector = [1.0, 0.0, 0.0];
const Y: Vector = [0.0, 1.0, 0.0];
const Z: Vector = [0.0, 0.0, 1.0];

/// The sizes of one of the two frames, in its unit.
struct Frame {
    /// One unit, mm.
    one: f64,
    beam: f64,
    drawbar: f64,
    post: [f64; 2],
    brace: [f64; 2],
    light: [f64; 2],
    drawbar_wall: f64,
    reach: f64,
    track: f64,
    upright: f64,
    brace_at: f64,
    stay: f64,
    knee: [f64; 2],
    keel: [f64; 2],
    bow: [f64; 2],
    bow_stay: f64,
    handle_at: f64,
    leg: f64,
    level: f64,
    clr: f64,
}

const METRIC: Frame = Frame {
    one: 1.0,
    beam: 60.3,
    drawbar: 48.3,
    post: [42.4, 2.6],
    brace: [33.7, 2.6],
    light: [26.9, 2.6],
    drawbar_wall: 3.2,
    reach: 2500.0,
    track: 450.0,
    upright: 380.0,
    brace_at: 600.0,
    stay: 225.0,
    knee: [150.0, 300.0],
    keel: [20.0, 260.0],
    bow: [1500.0, 300.0],
    bow_stay: 200.0,
    handle_at: 1950.0,
    leg: 400.0,
    level: 260.0,
    clr: 120.0,
};

const INCH: Frame = Frame {
    one: 25.4,
    beam: 2.25,
    drawbar: 2.0,
    post: [1.75, 0.095],
    brace: [1.25, 0.083],
    light: [1.0, 0.065],
    drawbar_wall: 0.120,
    reach: 98.0,
    track: 18.0,
    upright: 15.0,
    brace_at: 24.0,
    stay: 9.0,
    knee: [6.0, 12.0],
    keel: [0.75, 10.25],
    bow: [60.0, 12.0],
    bow_stay: 8.0,
    handle_at: 78.0,
    leg: 16.0,
    level: 10.25,
    clr: 4.5,
};

/// What an end sits on, as a place on its axis or face and a direction along it.
enum On {
    Tube(f64, Vector, Vector),
    /// A plate by its way out, towards the tube.
    Plate(Vector),
    /// In the middle of the handle's bend, of that way along it, from the inside.
    Bend(Vector),
    Nothing,
}

impl Frame {
    /// The seats of an end whose joint centre and way into the body are given, and its heel.
    fn seats(&self, on: &[On], centre: Vector, body: Vector) -> (Vec<Seat>, Vector) {
        let mut frame: Option<Vector> = None;
        let mut seats = Vec::new();
        for own in on {
            let (kind, mut along, through) = match own {
                On::Tube(diameter, place, way) => (Kind::Round(diameter * self.one), *way, *place),
                // The plate's steepest line towards the acute side.
                On::Plate(out) => {
                    let aside = less(body, scaled(*out, dot(body, *out)));
                    let along = if length(aside) < 1e-9 { X } else { unit(aside) };
                    (Kind::Plate, along, centre)
                }
                On::Bend(way) => {
                    let kind = Kind::Bent {
                        diameter: self.brace[0] * self.one,
                        clr: self.clr * self.one,
                        bend: 60.0,
                        station: 0.0,
                        facing: 0.0,
                    };
                    (kind, *way, centre)
                }
                On::Nothing => return (Vec::new(), square_to(Z, body)),
            };
            if dot(along, body) < -1e-9 {
                along = scaled(along, -1.0);
            }
            let heel = square_to(along, body);
            let first = *frame.get_or_insert(heel);
            let side = cross(body, heel);
            seats.push(Seat {
                kind,
                angle: dot(along, body).min(1.0).acos().to_degrees(),
                offset: dot(less(through, centre), side),
                turn: crate::vector::turn_about(body, first, heel).to_degrees(),
                shift: 0.0,
            });
        }
        (seats, frame.unwrap())
    }

    fn design(
        &self,
        [outside, wall]: [f64; 2],
        methods: [CutMethod; 2],
        corners: &[Vector],
        on: [&[On]; 2],
    ) -> Design {
        let corners: Vec<Vector> = corners.iter().map(|at| scaled(*at, self.one)).collect();
        let last = corners.len() - 1;
        let ways = [
            unit(less(corners[1], corners[0])),
            unit(less(corners[last - 1], corners[last])),
        ];
        let (a, heel_a) = self.seats(on[0], corners[0], ways[0]);
        let (b, heel_b) = self.seats(on[1], corners[last], ways[1]);
        let tube = (outside * self.one, wall * self.one);
        Design::given(tube, methods, corners, [heel_a, heel_b], [a, b])
    }

    /// Where every piece but the axle beam goes, by name.
    fn designs(&self) -> Vec<(&'static str, Design)> {
        let beam = || On::Tube(self.beam, [0.0; 3], Y);
        let bar = || On::Tube(self.drawbar, [0.0; 3], X);
        let post = |x: f64, y: f64| On::Tube(self.post[0], scaled([x, y, 0.0], self.one), Z);
        // Flush with the drawbar on top.
        let up = (self.drawbar - self.brace[0]) / 2.0;
        let (sin, cos) = 60_f64.to_radians().sin_cos();
        let rise = [cos, 0.0, sin];
        let foot = [self.handle_at, 0.0, 0.0];
        let vertex = sum(foot, scaled(rise, self.leg));
        let cut_off = self.clr * (1.0 / 30_f64.to_radians().cos() - 1.0);
        let middle = sum(vertex, scaled([cos, 0.0, -sin], cut_off));
        let mut all = vec![
            (
                "drawbar",
                self.design(
                    [self.drawbar, self.drawbar_wall],
                    [Saw; 2],
                    &[[0.0; 3], [self.reach, 0.0, 0.0]],
                    [&[beam()], &[On::Nothing]],
                ),
            ),
            (
                "keel post",
                self.design(
                    self.post,
                    [Square; 2],
                    &[[self.keel[0], 0.0, 0.0], [self.keel[0], 0.0, self.keel[1]]],
                    [&[bar(), beam()], &[On::Plate(scaled(Z, -1.0))]],
                ),
            ),
            (
                "bow post",
                self.design(
                    self.post,
                    [Saw, Square],
                    &[[self.bow[0], 0.0, 0.0], [self.bow[0], 0.0, self.bow[1]]],
                    // Its upper face looks up and back.
                    [&[bar()], &[On::Plate([0.5, 0.0, -sin])]],
                ),
            ),
            (
                "bow post stay",
                self.design(
                    self.brace,
                    [Saw; 2],
                    &[
                        [self.bow[0] - self.bow_stay, 0.0, 0.0],
                        [self.bow[0], 0.0, self.bow_stay],
                    ],
                    [&[bar()], &[post(self.bow[0], 0.0)]],
                ),
            ),
            (
                "handle",
                self.design(
                    self.brace,
                    [Saw; 2],
                    &[foot, vertex, sum(vertex, scaled(X, self.level))],
                    [&[bar()], &[On::Nothing]],
                ),
            ),
            (
                "handle stay",
                self.design(
                    self.light,
                    [Saw, Square],
                    &[sum(foot, scaled(X, self.leg)), middle],
                    [&[bar()], &[On::Bend([-sin, 0.0, -cos])]],
                ),
            ),
        ];
        for (hand, names) in [
            (1.0, ["upright", "brace, left", "stay, left", "knee"]),
            (-1.0, ["upright", "brace, right", "stay, right", "knee"]),
        ] {
            let y = hand * self.track;
            // It falls towards the middle by 20°, seen from below; the heels are on that side.
            let (sin, cos) = 20_f64.to_radians().sin_cos();
            let bunk = On::Plate([0.0, hand * sin, -cos]);
            let inwards = On::Tube(self.beam, [0.0; 3], scaled(Y, -hand));
            let aside = self.brace_at * 30_f64.to_radians().tan() * hand;
            let designs = [
                self.design(
                    self.post,
                    [Saw, Square],
                    &[[0.0, y, 0.0], [0.0, y, self.upright]],
                    [&[inwards], &[bunk]],
                ),
                self.design(
                    self.brace,
                    [Square, Saw],
                    &[[self.brace_at, 0.0, up], [0.0, aside, up]],
                    [&[bar()], &[beam()]],
                ),
                self.design(
                    self.brace,
                    [Saw; 2],
                    &[[2.0 * self.stay, 0.0, 0.0], [0.0, y, self.stay]],
                    [&[bar()], &[post(0.0, y)]],
                ),
                self.design(
                    self.brace,
                    [Saw; 2],
                    &[[0.0, hand * self.knee[0], 0.0], [0.0, y, self.knee[1]]],
                    [&[beam()], &[post(0.0, y)]],
                ),
            ];
            all.extend(names.into_iter().zip(designs));
        }
        all
    }
}

fn made(job: &Job) -> Vec<(String, PieceDraft)> {
    let pieces = job.pieces().iter();
    pieces
        .map(|piece| {
            let form = piece.form();
            let ends: [Option<Draft>; 2] = Side::BOTH.map(|side| read(&form.end(side)).ok());
            let draft = read_piece(form, [ends[0].as_ref(), ends[1].as_ref()]);
            (piece.label().to_owned(), draft.unwrap())
        })
        .collect()
}

fn jobs() -> [(Job, Frame); 2] {
    [
        (demo(Unit::Millimetre), METRIC),
        (demo(Unit::Fraction(Denominator::Sixteenth)), INCH),
    ]
}

fn of<'a>(made: &'a [(String, PieceDraft)], name: &str) -> &'a Piece {
    &made
        .iter()
        .find(|(label, _)| label == name)
        .expect(name)
        .1
        .piece
}

#[test]
fn every_piece_can_be_made_and_clashes_with_nothing() {
    for (job, _) in jobs() {
        let made = made(&job);
        assert_eq!(made.len(), 13);
        for (name, draft) in &made {
            assert_eq!(draft.clashes, Vec::new(), "{name}");
            assert!(draft.piece.clashes(&Clamps::default()).is_empty());
        }
        let wanted: u32 = made.iter().map(|(_, draft)| draft.count).sum();
        assert_eq!(wanted, 15);
    }
}

#[test]
fn the_trolley_goes_together() {
    for (job, frame) in jobs() {
        let made = made(&job);
        let mut seen = vec![String::from("axle beam")];
        for (name, design) in frame.designs() {
            let found = gaps(&design, &Printed::of(of(&made, name)));
            println!("{name}: {found:.4?} mm");
            assert!(found.iter().all(|gap| *gap <= GAP), "{name}: {found:?}");
            seen.push(name.to_owned());
        }
        for (name, _) in &made {
            assert!(seen.contains(name), "{name} has no place in the frame");
        }
    }
}

/// The left one does not go where the right one goes, nor with a heel the other way.
#[test]
fn what_is_turned_the_wrong_way_does_not_go_in() {
    for (job, frame) in jobs() {
        let made = made(&job);
        let designs = frame.designs();
        let place = |name: &str| &designs.iter().find(|(own, _)| *own == name).unwrap().1;
        for (name, other) in [
            ("brace, left", "brace, right"),
            ("brace, right", "brace, left"),
            ("stay, left", "stay, right"),
            ("stay, right", "stay, left"),
        ] {
            let found = gaps(place(name), &Printed::of(of(&made, other)));
            assert!(found[0].max(found[1]) > GAP, "{other} as {name}: {found:?}");
        }
        for name in [
            "brace, left",
            "stay, left",
            "bow post",
            "upright",
            "handle stay",
        ] {
            let piece = of(&made, name);
            let turned = |by: f64| {
                let end = piece.end(Side::B).template().unwrap();
                let mut slip = Printed::of(piece);
                slip.strips[1].line = end.turned(crate::deg(by)).line();
                gaps(place(name), &slip)[1]
            };
            assert!(turned(0.0) <= GAP);
            // A quarter turn either way; a half turn brings a cut square to its main back.
            assert!(turned(90.0) > GAP && turned(-90.0) > GAP, "{name}");
        }
        // Without its second main the keel post would not sit.
        let keel = of(&made, "keel post");
        let cope = keel.end(Side::A).template().unwrap().cope();
        assert_eq!(cope.joint().mains().count(), 2);
        assert!(cope.joint().branch().outside() > mm(40.0));
    }
}
