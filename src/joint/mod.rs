//! What sits on what: the branch, the main, and where a generator of the branch first meets the main.
