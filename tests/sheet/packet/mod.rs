//! The packet of a whole job.

mod compared;
mod jobs;
mod lists;
mod of_list;
mod nested;
