//! The packet of a whole job.

mod jobs;
mod lists;
mod nested;
