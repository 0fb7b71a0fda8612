//! How deep a hole saw must reach along its own axis to cut an end.

use crate::cope::Cope;
use crate::cope::saw::extreme::{least, nodes};
use crate::cope::saw::pre_cut::PreCut;
use crate::joint::{Joint, Shape};
use crate::units::Length;

/// The end of a tube as it comes to the saw: square at a height, less what a straight cut has
/// taken off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Blank {
    /// Height of the square end from the joint centre.
    pub end: Length,
    /// The straight cut made before, if there is one.
    pub pre_cut: Option<PreCut>,
}

impl Blank {
    /// A tube that ends square at the long point of its cut, or `grip` beyond it.
    #[must_use]
    pub fn square(cope: &Cope, grip: Length) -> Self {
        Self {
            end: cope.long_point().height - grip,
            pre_cut: None,
        }
    }

    /// The same blank after a straight cut.
    #[must_use]
    pub const fn after(self, pre_cut: PreCut) -> Self {
        Self {
            pre_cut: Some(pre_cut),
            ..self
        }
    }
}

/// Depths along the saw's axis, from the joint centre, growing from toe to heel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// The part of the tube inside the saw's cylinder that comes nearest to the saw's back.
    pub nearest: Length,
    /// Where the teeth first touch the wall.
    pub first: Length,
    /// Where they are clear of it.
    pub clear: Length,
}

impl Reach {
    /// From first touch to clear: how far the feed must go.
    #[must_use]
    pub fn travel(&self) -> Length {
        self.clear - self.first
    }

    /// How deep the saw's cup must be, so that what it cuts out has room inside until the teeth
    /// are clear. Never less than [`Self::travel`]: the end of the blank reaches into the cup
    /// before the teeth touch.
    #[must_use]
    pub fn cup(&self) -> Length {
        self.clear - self.nearest
    }
}

/// How deep a saw of that diameter must reach, its axis set on the main's; `None` for a main that
/// is no single straight round tube, and for a saw that passes beside the wall altogether.
///
/// Teeth without thickness on a cylinder. At a right angle, a saw whose axis meets the tube's
/// or passes it by no more than its radius travels one outside diameter.
#[must_use]
pub fn reach(joint: &Joint, saw: Length, blank: &Blank) -> Option<Reach> {
    Slices::new(joint, saw, blank)?.reach()
}

/// Nodes between two marks across the tube.
const EACH: u32 = 24;
/// Places this little below a floor are on it, mm: what rounding leaves where the long point is
/// where the saw grazes.
const SLACK: f64 = 1e-9;

/// The wall, the saw and what bounds the blank below, in the frame of the end turned and moved to
/// that of its main, mm.
struct Slices {
    outside: f64,
    bore: f64,
    saw: f64,
    offset: f64,
    sin: f64,
    cos: f64,
    /// The blank is above both: height at the axis, slopes along x and y.
    floors: [[f64; 3]; 2],
}

/// A straight stretch along x of one slice through the wall.
type Stretch = (f64, f64);

/// What one slice across the tube holds: depths, infinite for none.
struct Slice {
    nearest: f64,
    first: f64,
    clear: f64,
}

impl Slices {
    fn new(joint: &Joint, saw: Length, blank: &Blank) -> Option<Self> {
        let main = joint.main();
        let sizes = saw > Length::ZERO && saw.is_finite() && blank.end.is_finite();
        if joint.mains().count() > 1 || !matches!(main.shape(), Shape::Round { .. }) || !sizes {
            return None;
        }
        let (sin, cos) = main.sin_cos();
        let shift = main.shift().mm();
        let end = [blank.end.mm() - shift, 0.0, 0.0];
        let cut = blank.pre_cut.map_or(end, |cut| {
            let steepness = cut.off_square.rad().tan();
            let (sin, cos) = (cut.towards - main.turn()).rad().sin_cos();
            [cut.centre.mm() - shift, steepness * cos, steepness * sin]
        });
        Some(Self {
            outside: joint.branch().outside_radius().mm(),
            bore: joint.branch().bore_radius().mm(),
            saw: saw.mm() / 2.0,
            offset: main.offset().mm(),
            sin,
            cos,
            floors: [end, cut],
        })
    }

    fn reach(&self) -> Option<Reach> {
        let from = (-self.outside).max(self.offset - self.saw);
        let to = self.outside.min(self.offset + self.saw);
        if from >= to {
            return None;
        }
        let marks = [-self.bore, self.bore, self.offset, 0.0];
        let nodes = nodes(from, to, &marks, EACH);
        let [first, clear, nearest] = least(&nodes, |y| {
            let slice = self.slice(y);
            [slice.first, -slice.clear, slice.nearest]
        });
        let clear = -clear;
        (first.is_finite() && clear.is_finite()).then(|| Reach {
            nearest: Length::from_mm(nearest.min(first)),
            first: Length::from_mm(first),
            clear: Length::from_mm(clear),
        })
    }

    /// The wall at one distance across from the tube's axis: one stretch, or two beside the bore.
    fn wall(&self, y: f64) -> [Option<Stretch>; 2] {
        let half = |radius: f64| ((radius - y) * (radius + y)).max(0.0).sqrt();
        let out = half(self.outside);
        if y.abs() >= self.bore {
            return [Some((-out, out)), None];
        }
        let bore = half(self.bore);
        [Some((-out, -bore)), Some((bore, out))]
    }

    /// The stretch on which the plane of height `at` + `slope` · x is above all floors.
    fn above(&self, stretch: Stretch, y: f64, at: f64, slope: f64) -> Option<Stretch> {
        let (mut low, mut high) = stretch;
        for [centre, along, across] in self.floors {
            let (over, grows) = (at - centre - across * y + SLACK, slope - along);
            if grows > 0.0 {
                low = low.max(-over / grows);
            } else if grows < 0.0 {
                high = high.min(over / -grows);
            } else if over < 0.0 {
                return None;
            }
        }
        (low <= high).then_some((low, high))
    }

    fn slice(&self, y: f64) -> Slice {
        let mut slice = Slice {
            nearest: f64::INFINITY,
            first: f64::INFINITY,
            clear: f64::NEG_INFINITY,
        };
        let side = y - self.offset;
        let up = ((self.saw - side) * (self.saw + side)).max(0.0).sqrt();
        let slope = self.cos / self.sin;
        for stretch in self.wall(y).into_iter().flatten() {
            // Upper and lower half of the saw's cylinder: z = (x cos ± up) / sin, and along the
            // axis t = x sin + z cos = (x ± up cos) / sin, which grows with x.
            for half in [up, -up] {
                if let Some((low, high)) = self.above(stretch, y, half / self.sin, slope) {
                    slice.first = slice.first.min((low + half * self.cos) / self.sin);
                    slice.clear = slice.clear.max((high + half * self.cos) / self.sin);
                }
            }
            if let Some(inside) = self.above(stretch, y, up / self.sin, slope) {
                slice.nearest = slice.nearest.min(self.nearest(inside, y, up));
            }
        }
        slice
    }

    /// The least x sin + z cos of what lies inside the cylinder over a stretch: at the lowest z,
    /// which is a floor or the lower half. That is convex and made of straight lines, so it is
    /// least at an end or at a corner.
    fn nearest(&self, (low, high): Stretch, y: f64, up: f64) -> f64 {
        let [end, cut] = self
            .floors
            .map(|[centre, along, across]| [centre + across * y, along]);
        let lines = [end, cut, [-up / self.sin, self.cos / self.sin]];
        let at = |x: f64| {
            let bottom = lines
                .iter()
                .map(|[at, slope]| at + slope * x)
                .fold(f64::NEG_INFINITY, f64::max);
            x * self.sin + bottom * self.cos
        };
        let corner = |one: usize, other: usize| {
            let [[at, slope], [at_other, slope_other]] = [lines[one], lines[other]];
            (at_other - at) / (slope - slope_other)
        };
        [corner(0, 1), corner(0, 2), corner(1, 2)]
            .into_iter()
            .filter(|x| *x > low && *x < high)
            .map(at)
            .fold(at(low).min(at(high)), f64::min)
    }
}
