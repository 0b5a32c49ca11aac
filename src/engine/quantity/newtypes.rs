//! One type per quantity, so that an inch never meets a newton by accident.

use std::ops::{Add, Div, Mul, Neg, Sub};

use serde::{Deserialize, Serialize};

use super::units::{
    MM_PER_INCH, N_PER_KGF, N_PER_LBF, N_PER_UM_PER_LBF_PER_THOU, NM_PER_LBF_FT, RAD_PER_DEGREE, W_PER_HP,
};

macro_rules! quantities {
    ($(
        $(#[$doc:meta])*
        $name:ident { $($unit:ident, $getter:ident = $factor:expr, $spoken:literal;)+ }
    )+) => { $(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);

            $(
                #[doc = concat!("From a number of ", $spoken, ".")]
                pub const fn $unit(number: f64) -> Self {
                    Self(number * $factor)
                }

                #[doc = concat!("As a number of ", $spoken, ".")]
                pub const fn $getter(self) -> f64 {
                    self.0 / $factor
                }
            )+
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, times: f64) -> Self {
                Self(self.0 * times)
            }
        }

        impl Mul<$name> for f64 {
            type Output = $name;
            fn mul(self, quantity: $name) -> $name {
                quantity * self
            }
        }

        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, parts: f64) -> Self {
                Self(self.0 / parts)
            }
        }

        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }
    )+ };
}

quantities! {
    /// A length, in mm.
    Length {
        mm, as_mm = 1.0, "millimetres";
        um, as_um = 0.001, "micrometres";
        inch, as_inch = MM_PER_INCH, "inches";
        thou, as_thou = MM_PER_INCH / 1000.0, "thousandths of an inch";
    }
    /// A force, in N.
    Force {
        newton, as_newton = 1.0, "newtons";
        kgf, as_kgf = N_PER_KGF, "kilograms-force";
        lbf, as_lbf = N_PER_LBF, "pounds-force";
    }
    /// A stiffness, in N/µm.
    Stiffness {
        n_per_um, as_n_per_um = 1.0, "newtons per micrometre";
        n_per_mm, as_n_per_mm = 0.001, "newtons per millimetre";
        lbf_per_thou, as_lbf_per_thou = N_PER_UM_PER_LBF_PER_THOU,
            "pounds-force per thousandth of an inch";
    }
    /// A torque, in N·m.
    Torque {
        newton_metre, as_newton_metre = 1.0, "newton metres";
        lbf_ft, as_lbf_ft = NM_PER_LBF_FT, "pound-force feet";
        lbf_in, as_lbf_in = NM_PER_LBF_FT / 12.0, "pound-force inches";
    }
    /// An angle, in rad.
    Angle {
        rad, as_rad = 1.0, "radians";
        deg, as_deg = RAD_PER_DEGREE, "degrees";
    }
    /// A speed of rotation, in rpm.
    Rotation {
        rpm, as_rpm = 1.0, "revolutions per minute";
        rev_per_s, as_rev_per_s = 60.0, "revolutions per second";
    }
    /// A cutting speed, in m/min.
    CuttingSpeed {
        m_per_min, as_m_per_min = 1.0, "metres per minute";
        sfm, as_sfm = 12.0 * MM_PER_INCH / 1000.0, "surface feet per minute";
    }
    /// A frequency, in Hz.
    Frequency {
        hertz, as_hertz = 1.0, "hertz";
    }
    /// A power, in W.
    Power {
        watt, as_watt = 1.0, "watts";
        hp, as_hp = W_PER_HP, "horsepower";
    }
    /// An amount of the user's own currency.
    Money {
        amount, as_amount = 1.0, "units of the user's currency";
    }
    /// A time at work, in h.
    Hours {
        h, as_h = 1.0, "hours";
        minutes, as_minutes = 1.0 / 60.0, "minutes";
    }
}

/// The deflection under a force.
impl Div<Stiffness> for Force {
    type Output = Length;
    fn div(self, stiffness: Stiffness) -> Length {
        Length::um(self.as_newton() / stiffness.as_n_per_um())
    }
}

/// The stiffness that deflects so far under a force.
impl Div<Length> for Force {
    type Output = Stiffness;
    fn div(self, deflection: Length) -> Stiffness {
        Stiffness::n_per_um(self.as_newton() / deflection.as_um())
    }
}

/// The force that deflects so far.
impl Mul<Length> for Stiffness {
    type Output = Force;
    fn mul(self, deflection: Length) -> Force {
        Force::newton(self.as_n_per_um() * deflection.as_um())
    }
}

impl Mul<Stiffness> for Length {
    type Output = Force;
    fn mul(self, stiffness: Stiffness) -> Force {
        stiffness * self
    }
}

/// The torque of a force at the end of an arm.
impl Mul<Length> for Force {
    type Output = Torque;
    fn mul(self, arm: Length) -> Torque {
        Torque::newton_metre(self.as_newton() * arm.as_mm() / 1000.0)
    }
}

impl Mul<Force> for Length {
    type Output = Torque;
    fn mul(self, force: Force) -> Torque {
        force * self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn assert_close(got: f64, expected: f64) {
        assert!((got - expected).abs() < 1e-12 * expected.abs(), "{got} is not {expected}");
    }

    #[test]
    fn units_convert_both_ways() {
        assert_close(Length::inch(1.0).as_mm(), 25.4);
        assert_close(Length::mm(0.0127).as_thou(), 0.5);
        assert_close(Length::um(8.0).as_mm(), 0.008);
        assert_close(Force::lbf(1.0).as_newton(), 4.448_221_615_260_5);
        assert_close(Force::newton(9.806_65).as_kgf(), 1.0);
        assert_close(Torque::lbf_in(12.0).as_lbf_ft(), 1.0);
        assert_close(Angle::deg(180.0).as_rad(), std::f64::consts::PI);
        assert_close(Rotation::rpm(1500.0).as_rev_per_s(), 25.0);
        assert_close(CuttingSpeed::sfm(100.0).as_m_per_min(), 30.48);
        assert_close(Hours::minutes(90.0).as_h(), 1.5);
    }

    #[test]
    fn arithmetic() {
        let (a, b) = (Length::mm(3.0), Length::mm(2.0));
        assert_close((a + b).as_mm(), 5.0);
        assert_close((a - b).as_mm(), 1.0);
        assert_close((-a).as_mm(), -3.0);
        assert_close((a * 2.0).as_mm(), 6.0);
        assert_close((2.0 * a).as_mm(), 6.0);
        assert_close((a / 2.0).as_mm(), 1.5);
        assert_close(a / b, 1.5);
        assert!(a > b && Length::ZERO < b);
    }

    #[test]
    fn force_stiffness_deflection() {
        let (force, stiffness) = (Force::newton(200.0), Stiffness::n_per_um(10.0));
        assert_close((force / stiffness).as_um(), 20.0);
        assert_close((force / Length::um(20.0)).as_n_per_um(), 10.0);
        assert_close((stiffness * Length::um(20.0)).as_newton(), 200.0);
        assert_close((Length::um(20.0) * stiffness).as_newton(), 200.0);
        assert_close((Force::lbf(10.0) / Length::thou(2.0)).as_lbf_per_thou(), 5.0);
        assert_close(Stiffness::n_per_um(1.0).as_n_per_mm(), 1000.0);
    }

    #[test]
    fn force_on_an_arm() {
        assert_close((Force::newton(200.0) * Length::mm(50.0)).as_newton_metre(), 10.0);
        assert_close((Length::inch(12.0) * Force::lbf(1.0)).as_lbf_ft(), 1.0);
        assert_close(Power::hp(1.0).as_watt(), 550.0 * (Length::inch(12.0) * Force::lbf(1.0)).as_newton_metre());
    }

    #[test]
    fn stored_as_bare_numbers() {
        use serde::de::{IntoDeserializer, value};

        struct Written(Length);
        impl std::fmt::Display for Written {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                self.0.serialize(f)
            }
        }
        assert_eq!(Written(Length::mm(12.5)).to_string(), "12.5");
        let read = Length::deserialize(IntoDeserializer::<value::Error>::into_deserializer(12.5));
        assert_eq!(read, Ok(Length::mm(12.5)));
    }
}
