//! The rest of the page, loaded when it is asked for: whole pieces, jobs, saws, files.

fn main() {
    #[cfg(target_arch = "wasm32")]
    copewright::app::start_workshop();
    #[cfg(not(target_arch = "wasm32"))]
    eprintln!("This is a part of the page that `cargo xtask serve` builds.");
}
