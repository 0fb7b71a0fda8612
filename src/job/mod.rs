//! What the user typed, the share link, and what is kept between visits.
