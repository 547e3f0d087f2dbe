//! Units: what a number is shown in, U.S. and SI, and the dimension that a unit has.
//!
//! Inside a calculation a force is in pounds and a length in inches; every other unit is a factor of these.

use std::marker::PhantomData;

use typenum::{Integer, N1, N2, N3, P1, P2, P3, Z0};

/// Newtons in a pound-force, exact: 0.453 592 37 kg at 9.806 65 m/s² (NIST SP 811, appendix B.8).
const NEWTONS: f64 = 4.448_221_615_260_5;
/// Meters in an inch, exact (the international inch).
const METERS: f64 = 0.0254;

macro_rules! units {
    ($($(#[$doc:meta])* $name:ident $constant:ident: $force:ty, $length:ty;
        $us:literal = $factor:expr, $si:literal = $si_factor:expr;)+) => {
        /// A unit that a number is shown in.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum Unit {
            $($(#[$doc])* $name),+
        }

        impl Unit {
            /// Every unit.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];

            /// Its sign in U.S. units, as tables spell it; empty for a plain number.
            pub const fn sign(self) -> &'static str {
                match self { $(Self::$name => $us),+ }
            }

            /// The sign of its companion in SI units.
            pub const fn si_sign(self) -> &'static str {
                match self { $(Self::$name => $si),+ }
            }

            /// How many pounds and inches one of it is.
            pub fn factor(self) -> f64 {
                match self { $(Self::$name => $factor),+ }
            }

            /// How many pounds and inches one of its SI companion is.
            pub fn si_factor(self) -> f64 {
                match self { $(Self::$name => $si_factor),+ }
            }

            /// The exponents of force and length in it.
            pub const fn dimension(self) -> (i8, i8) {
                match self { $(Self::$name => (<$force as Integer>::I8, <$length as Integer>::I8)),+ }
            }
        }

        $($(#[$doc])* pub const $constant: TypedUnit<$force, $length> = TypedUnit(Unit::$name, PhantomData);)+
    };
}

units! {
    /// A plain number.
    Plain PLAIN: Z0, Z0; "" = 1.0, "" = 1.0;
    /// A count of pieces.
    Count COUNT: Z0, Z0; "pcs" = 1.0, "pcs" = 1.0;
    /// A share of gravity.
    Gravity GRAVITY: Z0, Z0; "g" = 1.0, "g" = 1.0;
    /// A second; time takes no part in the dimensions of a static calculation.
    Second SECOND: Z0, Z0; "s" = 1.0, "s" = 1.0;
    /// A degree of angle.
    Degree DEGREE: Z0, Z0; "deg" = 1.0, "deg" = 1.0;
    /// A pound of force.
    Pound POUND: P1, Z0; "lb" = 1.0, "kN" = 1000.0 / NEWTONS;
    /// A thousand pounds.
    Kip KIP: P1, Z0; "kip" = 1000.0, "kN" = 1000.0 / NEWTONS;
    /// An inch.
    Inch INCH: Z0, P1; "in" = 1.0, "mm" = 0.001 / METERS;
    /// A foot.
    Foot FOOT: Z0, P1; "ft" = 12.0, "m" = 1.0 / METERS;
    /// A square inch.
    SquareInch SQUARE_INCH: Z0, P2; "sq in" = 1.0, "sq mm" = 1e-6 / (METERS * METERS);
    /// A square foot.
    SquareFoot SQUARE_FOOT: Z0, P2; "sq ft" = 144.0, "sq m" = 1.0 / (METERS * METERS);
    /// A cubic inch.
    CubicInch CUBIC_INCH: Z0, P3; "cu in" = 1.0, "cu mm" = 1e-9 / (METERS * METERS * METERS);
    /// A pound on a square inch.
    PoundPerSquareInch PSI: P1, N2; "psi" = 1.0, "MPa" = 1e6 * METERS * METERS / NEWTONS;
    /// A pound on a square foot.
    PoundPerSquareFoot PSF: P1, N2; "psf" = 1.0 / 144.0, "kPa" = 1000.0 * METERS * METERS / NEWTONS;
    /// A pound along a foot.
    PoundPerFoot PLF: P1, N1; "plf" = 1.0 / 12.0, "kN/m" = 1000.0 * METERS / NEWTONS;
    /// A thousand pounds for an inch: a stiffness.
    KipPerInch KIP_PER_INCH: P1, N1; "kip/in" = 1000.0, "kN/mm" = 1e6 * METERS / NEWTONS;
    /// A pound in a cubic foot, and a pound on a square foot for each foot of depth.
    PoundPerCubicFoot PCF: P1, N3; "pcf" = 1.0 / 1728.0, "kN/cu m" = 1000.0 * METERS * METERS * METERS / NEWTONS;
    /// A pound at an arm of a foot.
    PoundFoot POUND_FOOT: P1, P1; "lb-ft" = 12.0, "kN-m" = 1000.0 / (NEWTONS * METERS);
    /// A pound at an arm of an inch.
    PoundInch POUND_INCH: P1, P1; "lb-in" = 1.0, "kN-m" = 1000.0 / (NEWTONS * METERS);
}

impl Unit {
    /// Reads a unit as tables spell it, U.S. or SI; `None` for any other text.
    ///
    /// ```
    /// use retrofit_core::screen::Unit;
    /// assert_eq!(Unit::spelled("psf").map(|(_, factor)| factor * 144.0), Some(1.0));
    /// assert_eq!(Unit::spelled("kPa").map(|(unit, _)| unit.sign()), Some("psf"));
    /// assert_eq!(Unit::spelled("furlong"), None);
    /// ```
    pub fn spelled(text: &str) -> Option<(Self, f64)> {
        let us = Self::ALL.iter().find(|unit| unit.sign() == text);
        let si = || Self::ALL.iter().find(|unit| unit.si_sign() == text);
        us.map(|unit| (*unit, unit.factor()))
            .or_else(|| si().map(|unit| (*unit, unit.si_factor())))
    }
}

/// A unit of which the compiler knows the dimension: `F` of force and `L` of length.
#[derive(Clone, Copy, Debug)]
pub struct TypedUnit<F, L>(Unit, PhantomData<(F, L)>);

impl<F, L> TypedUnit<F, L> {
    /// The unit itself.
    pub const fn unit(&self) -> Unit {
        self.0
    }
}
