//! The printed sheet: true scale, nothing lost, nothing over anything else.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod card;
mod code;
mod common;
mod dxf;
mod landing;
mod packet;
mod pages;
mod pdf;
mod piece;
mod rulers;
mod strip;
mod tiles;
mod writers;
