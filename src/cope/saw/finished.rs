//! What must be left standing of the wall when an end is finished, for straight cuts to stay below.

use crate::cope::saw::extreme::least;
use crate::cope::{Cope, CutMethod};
use crate::joint::Surface;
use crate::units::{Angle, Length};

/// Turns asked once round.
const ROUND: u32 = 720;

/// How far from the line its corners' chords may be.
const CORNERS: Length = Length::from_mm(0.05);

/// Height of the finished wall at one turn, at a few wall radii.
type Post = [(f64, f64); RADII];
/// Wall radii asked at each turn, bore and outside among them.
const RADII: usize = 5;

/// The finished wall, asked once round. Heights from the joint centre, turns from the heel.
pub struct Finished<'a> {
    cope: &'a Cope,
    /// Height and slope over ρ of the trim beside the first main: ρ cos(φ − turn) slope + shift.
    trim: [f64; 3],
    turns: Vec<f64>,
    posts: Vec<Post>,
}

impl<'a> Finished<'a> {
    pub fn new(cope: &'a Cope) -> Self {
        let main = cope.joint().main();
        let (sin, cos) = main.sin_cos();
        let mut own = Self {
            cope,
            trim: [main.turn().rad(), cos / sin, main.shift().mm()],
            turns: Vec::new(),
            posts: Vec::new(),
        };
        let special = [cope.long_point(), cope.short_point()]
            .into_iter()
            .flat_map(|extreme| extreme.turns.iter().copied())
            .chain(cope.beside().iter().flat_map(|arc| [arc.from, arc.to]))
            .chain(cope.ridges().into_iter().map(|ridge| ridge.turn))
            .chain(vertices(cope))
            .map(|turn| turn.within_turn().rad());
        let step = std::f64::consts::TAU / f64::from(ROUND);
        own.turns = (0..=ROUND)
            .map(|turn| f64::from(turn) * step)
            .chain(special)
            .collect();
        crate::units::sort_by_number(&mut own.turns, |turn| *turn);
        own.posts = own.turns.iter().map(|turn| own.post(*turn)).collect();
        own
    }

    /// The wall at one turn.
    ///
    /// A saw that follows the main leaves the height of each wall radius, any other cut the height
    /// of the line at all of them. On one straight main the outside alone decides (docs/geometry.md
    /// §8); elsewhere more radii are asked.
    fn post(&self, turn: f64) -> Post {
        let angle = Angle::from_rad(turn);
        let joint = self.cope.joint();
        let (bore, outside) = (
            joint.branch().bore_radius().mm(),
            joint.branch().outside_radius().mm(),
        );
        let radius = |at: usize| bore + (outside - bore) * at as f64 / (RADII - 1) as f64;
        let line = self.cope.at(angle).height().mm();
        if self.cope.method() != CutMethod::Saw {
            return std::array::from_fn(|at| (radius(at), line));
        }
        let straight = matches!(joint.main().surface(), Surface::Straight(_));
        if straight && joint.mains().count() == 1 {
            return [(outside, line); RADII];
        }
        let [about, slope, shift] = self.trim;
        let mut post: Post = std::array::from_fn(|at| {
            let rho = radius(at);
            let trace = self.cope.trace(Length::from_mm(rho), angle);
            let trim = rho * (turn - about).cos() * slope + shift;
            (rho, trace.map_or(trim, Length::mm))
        });
        // The printed line is never crossed, whatever the wall behind it does.
        post[RADII - 1].1 = post[RADII - 1].1.min(line);
        post
    }

    /// How high a plane of a steepness towards a turn may lie at the axis and still touch nothing
    /// of the finished wall, by the turns asked alone.
    pub fn room(&self, steepness: f64, towards: f64) -> f64 {
        self.turns
            .iter()
            .zip(&self.posts)
            .map(|(turn, post)| over(post, steepness * (turn - towards).cos()))
            .fold(f64::INFINITY, f64::min)
    }

    /// The same, with every low place narrowed down.
    pub fn exact_room(&self, steepness: f64, towards: f64) -> f64 {
        let [room] = least(&self.turns, |turn| {
            [over(&self.post(turn), steepness * (turn - towards).cos())]
        });
        room
    }
}

/// Turns of the printed line's corners: they crowd where it bends, or dips between two others.
fn vertices(cope: &Cope) -> Vec<Angle> {
    let width = cope.joint().branch().outside() * std::f64::consts::PI;
    let runs = cope.line(Angle::ZERO, width, CORNERS);
    let points = runs.into_iter().flat_map(|run| run.points);
    points.map(|point| point.turn).collect()
}

/// Least height of a post over a plane through the origin that rises by `slope` outwards.
fn over(post: &Post, slope: f64) -> f64 {
    post.iter()
        .map(|(rho, height)| height - slope * rho)
        .fold(f64::INFINITY, f64::min)
}
