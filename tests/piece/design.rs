//! Frames designed in space at random, and the pieces that go into them as a user would type them.
//!
//! A design knows places and directions in space, and mains as distances to their surfaces.

use std::f64::consts::{PI, TAU};

use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Bend, Joint, Main, RectangularSection, RoundTube};
use copewright::piece::{Between, CentreLine, End, Piece, Side, TubeBend, Wrap};
use copewright::units::Angle;

use crate::random::Random;
use crate::vector::{
    Vector, cross, dot, length, less, scaled, square_to, sum, turn_about, turned, unit,
};
use crate::{deg, mm, tube};

/// What an end sits on, as it is measured. Lengths in mm, angles in degrees.
#[derive(Debug, Clone, Copy)]
pub enum Kind {
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
pub struct Seat {
    pub kind: Kind,
    pub angle: f64,
    pub offset: f64,
    /// Of a further main: its turn about the branch and its shift along it.
    pub turn: f64,
    pub shift: f64,
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
pub struct Design {
    pub outside: f64,
    pub wall: f64,
    /// How each end is cut.
    pub methods: [CutMethod; 2],
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
    /// A straight tube or one with a bend, `corners` being joint centre A, the vertex of the bend
    /// if there is one, and joint centre B.
    pub fn given(
        (outside, wall): (f64, f64),
        methods: [CutMethod; 2],
        corners: Vec<Vector>,
        heels: [Vector; 2],
        seats: [Vec<Seat>; 2],
    ) -> Self {
        Self {
            outside,
            wall,
            methods,
            corners,
            radii: Vec::new(),
            heels,
            seats,
            grips: [0.0; 2],
            zero: heels[0],
            between: Between::Centres,
        }
    }

    pub fn random(random: &mut Random, bends: usize) -> Self {
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
            methods: [CutMethod::ALL[random.below(3)]; 2],
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
        Cope::new(&joint, self.methods[side.index()], mm(0.0)).ok()
    }

    /// The piece as it is typed: bends and heels by what is measured in the frame. `None` where an
    /// end does not reach its main.
    pub fn piece(&self) -> Option<Piece> {
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
    pub fn place(&self, side: Side) -> [Vector; 3] {
        let count = self.corners.len();
        let (centre, next) = match side {
            Side::A => (self.corners[0], self.corners[1]),
            Side::B => (self.corners[count - 1], self.corners[count - 2]),
        };
        [centre, unit(less(next, centre)), self.heels[side.index()]]
    }

    /// Distance from the nearest of the mains of an end.
    pub fn distance(&self, side: Side, place: Vector) -> f64 {
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
