//! The page: sheets, bench, drawings and charts over the core.

mod ahead;
mod bench;
mod beside;
pub mod chart;
pub mod drawing;
mod files;
mod live;
mod page;
mod renew;
#[cfg(test)]
mod sample;
pub mod sheets;
mod shell;
mod state;
pub mod store;
mod tool;
pub mod view;

use wasm_bindgen::prelude::wasm_bindgen;

/// Shows the page. The browser calls it once the module is ready.
#[wasm_bindgen(start)]
pub fn start() {
    console_error_panic_hook::set_once();
    tool::offer();
    page::show();
}
