//! Where the boxes of a view's dimensions stand, so that none covers another.

use crate::joint::Dimension;
use crate::sheet::sketch::{BOX_HEIGHT, BOX_WIDTH};

/// A place in drawing mm about the picture's origin, y up.
pub type Spot = (f64, f64);

/// Boxes that stand already.
#[derive(Default)]
pub struct Boxes(pub Vec<(Dimension, Spot)>);

impl Boxes {
    /// Puts a box on the first of some places that covers no other box and pleases; on the first
    /// that covers none if no place pleases.
    pub fn put(
        &mut self,
        of: Dimension,
        places: impl Iterator<Item = Spot> + Clone,
        pleases: impl Fn(Spot) -> bool,
    ) {
        let free = |spot: &Spot| self.0.iter().all(|(_, other)| apart(*spot, *other));
        let spot = places
            .clone()
            .find(|spot| free(spot) && pleases(*spot))
            .or_else(|| places.clone().find(free))
            .or_else(|| places.clone().next());
        if let Some(spot) = spot {
            self.0.push((of, spot));
        }
    }
}

/// Whether two boxes leave a little air between them.
pub fn apart(a: Spot, b: Spot) -> bool {
    const AIR: f64 = 1.0;
    (a.0 - b.0).abs() >= BOX_WIDTH + AIR || (a.1 - b.1).abs() >= BOX_HEIGHT + AIR
}

/// Whether a line stays out of a box.
pub fn clear_of_line(spot: Spot, a: Spot, b: Spot) -> bool {
    // Clips the line to the box, side by side.
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    let sides = [
        (a.0 - spot.0, b.0 - a.0, BOX_WIDTH / 2.0),
        (a.1 - spot.1, b.1 - a.1, BOX_HEIGHT / 2.0),
    ];
    for (start, step, half) in sides {
        if step == 0.0 {
            if start.abs() >= half {
                return true;
            }
            continue;
        }
        let (one, two) = ((-half - start) / step, (half - start) / step);
        from = from.max(one.min(two));
        to = to.min(one.max(two));
    }
    from >= to
}
