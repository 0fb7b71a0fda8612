//! The packet of a whole job.

mod compared;
mod jobs;
mod lists;
mod nested;
mod of_list;
