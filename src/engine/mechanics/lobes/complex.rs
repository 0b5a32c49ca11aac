//! Complex numbers, as far as stability needs them.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// A complex number.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Complex {
    /// Real part.
    pub re: f64,
    /// Imaginary part.
    pub im: f64,
}

impl Complex {
    /// `re + i im`.
    pub const fn new(re: f64, im: f64) -> Self {
        Complex { re, im }
    }

    /// A real number.
    pub const fn real(re: f64) -> Self {
        Complex { re, im: 0.0 }
    }

    /// `exp(i angle)`.
    pub fn turn(angle: f64) -> Self {
        let (im, re) = angle.sin_cos();
        Complex { re, im }
    }

    /// Conjugate.
    pub fn conj(self) -> Self {
        Complex { re: self.re, im: -self.im }
    }

    /// Magnitude.
    pub fn abs(self) -> f64 {
        self.norm().sqrt()
    }

    /// Squared magnitude.
    pub fn norm(self) -> f64 {
        self.re * self.re + self.im * self.im
    }

    /// Angle, -pi to pi.
    pub fn arg(self) -> f64 {
        self.im.atan2(self.re)
    }

    /// The square root with a real part that is not negative.
    pub fn sqrt(self) -> Self {
        // The larger part by a root, the other from their product.
        let larger = (0.5 * (self.abs() + self.re.abs())).sqrt();
        let smaller = if larger > 0.0 { 0.5 * self.im.abs() / larger } else { 0.0 };
        let (re, im) = if self.re >= 0.0 { (larger, smaller) } else { (smaller, larger) };
        Complex { re, im: im.copysign(self.im) }
    }

    /// Times a real number.
    pub fn scale(self, factor: f64) -> Self {
        Complex { re: factor * self.re, im: factor * self.im }
    }
}

impl Add for Complex {
    type Output = Complex;
    fn add(self, other: Complex) -> Complex {
        Complex { re: self.re + other.re, im: self.im + other.im }
    }
}

impl Sub for Complex {
    type Output = Complex;
    fn sub(self, other: Complex) -> Complex {
        Complex { re: self.re - other.re, im: self.im - other.im }
    }
}

impl Mul for Complex {
    type Output = Complex;
    fn mul(self, other: Complex) -> Complex {
        Complex { re: self.re * other.re - self.im * other.im, im: self.re * other.im + self.im * other.re }
    }
}

impl Div for Complex {
    type Output = Complex;
    fn div(self, other: Complex) -> Complex {
        (self * other.conj()).scale(1.0 / other.norm())
    }
}

impl Neg for Complex {
    type Output = Complex;
    fn neg(self) -> Complex {
        Complex { re: -self.re, im: -self.im }
    }
}
