//! The page: sheets, bench, drawings and charts over the core.

pub mod chart;
pub mod drawing;
mod page;
#[cfg(test)]
mod sample;
pub mod sheets;
pub mod store;
pub mod view;

use wasm_bindgen::prelude::wasm_bindgen;

/// Shows the page. The browser calls it once the module is ready.
#[wasm_bindgen(start)]
pub fn start() {
    console_error_panic_hook::set_once();
    leptos::mount::mount_to_body(page::Page);
}
