//! Copewright: true-scale wrap-around paper templates for coping round tube.
//!
//! Each module is a room that knows only the rooms listed before it. Lengths are millimetres
//! and angles radians everywhere inside; [`units`] is the only place where text becomes either.

pub mod units;

pub mod stock;

pub mod joint;

pub mod cope;

pub mod piece;

pub mod job;

pub mod sheet;

pub mod write;

#[cfg(target_arch = "wasm32")]
pub mod app;
