//! Starts the page. Outside a browser there is nothing to start, so it says where to look.

fn main() {
    #[cfg(target_arch = "wasm32")]
    copewright::app::start();
    #[cfg(not(target_arch = "wasm32"))]
    eprintln!(
        "Copewright runs in a browser: `cargo xtask serve` builds it and prints the address."
    );
}
