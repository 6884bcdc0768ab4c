//! Our own drawing backend: any backend of the charting library, drawn finer than a pixel.
//!
//! The library knows whole pixels only, so a slanted or dashed line would climb in steps,
//! and it measures text through the page, which is slow beside a large table. Here it
//! believes the canvas to be [`FINE`] times as large, the true backend's transform scales
//! the result back, and text is measured by whoever can do it best.

use plotters_backend::{BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingBackend, DrawingErrorKind};

/// Units of the drawing a pixel.
pub const FINE: u32 = 16;

/// Measures a text: width in pixels at a size in pixels.
pub trait Measure {
    /// Width of a text, px.
    fn width_px(&self, text: &str, size_px: f64) -> f64;
}

/// Measures by the average letter of a system font, where nothing better is at hand.
#[derive(Clone, Copy, Debug)]
pub struct ByAverage;

impl Measure for ByAverage {
    fn width_px(&self, text: &str, size_px: f64) -> f64 {
        text.chars().count() as f64 * size_px * 0.56
    }
}

/// A backend drawn finely.
pub struct Fine<'a, B, M> {
    inner: B,
    size_px: (u32, u32),
    measure: &'a M,
}

impl<'a, B: DrawingBackend, M: Measure> Fine<'a, B, M> {
    /// Wraps a backend that scales what it draws down by [`FINE`] onto an area of that size.
    pub fn new(inner: B, size_px: (u32, u32), measure: &'a M) -> Self {
        Self { inner, size_px, measure }
    }
}

impl<B: DrawingBackend, M: Measure> DrawingBackend for Fine<'_, B, M> {
    type ErrorType = B::ErrorType;

    fn get_size(&self) -> (u32, u32) {
        (self.size_px.0 * FINE, self.size_px.1 * FINE)
    }

    fn ensure_prepared(&mut self) -> Result<(), DrawingErrorKind<B::ErrorType>> {
        self.inner.ensure_prepared()
    }

    fn present(&mut self) -> Result<(), DrawingErrorKind<B::ErrorType>> {
        self.inner.present()
    }

    fn draw_pixel(&mut self, point: BackendCoord, color: BackendColor) -> Result<(), DrawingErrorKind<B::ErrorType>> {
        self.inner.draw_pixel(point, color)
    }

    fn draw_line<S: BackendStyle>(
        &mut self,
        from: BackendCoord,
        to: BackendCoord,
        style: &S,
    ) -> Result<(), DrawingErrorKind<B::ErrorType>> {
        self.inner.draw_line(from, to, style)
    }

    fn draw_rect<S: BackendStyle>(
        &mut self,
        upper_left: BackendCoord,
        bottom_right: BackendCoord,
        style: &S,
        fill: bool,
    ) -> Result<(), DrawingErrorKind<B::ErrorType>> {
        self.inner.draw_rect(upper_left, bottom_right, style, fill)
    }

    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        path: I,
        style: &S,
    ) -> Result<(), DrawingErrorKind<B::ErrorType>> {
        self.inner.draw_path(path, style)
    }

    fn draw_circle<S: BackendStyle>(
        &mut self,
        center: BackendCoord,
        radius: u32,
        style: &S,
        fill: bool,
    ) -> Result<(), DrawingErrorKind<B::ErrorType>> {
        self.inner.draw_circle(center, radius, style, fill)
    }

    fn fill_polygon<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        vert: I,
        style: &S,
    ) -> Result<(), DrawingErrorKind<B::ErrorType>> {
        self.inner.fill_polygon(vert, style)
    }

    fn draw_text<S: BackendTextStyle>(
        &mut self,
        text: &str,
        style: &S,
        pos: BackendCoord,
    ) -> Result<(), DrawingErrorKind<B::ErrorType>> {
        self.inner.draw_text(text, style, pos)
    }

    fn estimate_text_size<S: BackendTextStyle>(
        &self,
        text: &str,
        style: &S,
    ) -> Result<(u32, u32), DrawingErrorKind<B::ErrorType>> {
        let fine = f64::from(FINE);
        let width = self.measure.width_px(text, style.size() / fine) * fine;
        Ok((width.ceil() as u32, style.size().ceil() as u32))
    }
}
