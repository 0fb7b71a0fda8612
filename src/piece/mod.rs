//! Where the cut line goes on the tube: the wrap, the mark line, the turn of the zero line.

mod landing;
mod ordinates;
mod template;
mod wrap;

pub use landing::{LANDING_MARGIN, Landing, LandingMark, LandingPoint, LandingRun, NoLanding};
pub use ordinates::{Ordinate, ordinates};
pub use template::{LINE_TOLERANCE, PaperPoint, PaperRun, Station, Template};
pub use wrap::{GIRTH_DOUBT, GIRTH_LIMIT, THICKNESS_MAX, Wrap};
