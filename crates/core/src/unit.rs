//! The unit of a design: what a bare number means, the step that sizes are rounded to, and how lengths are written.
//!
//! In a design file: `Millimetre(step: 0.5)`, with a step from 0.001 to 10 mm, or `Inch(denominator: 32)`, with 16, 32
//! or 64.

use std::fmt;

use serde::{
    Deserialize, Deserializer, Serialize, Serializer,
    de::{self, Visitor},
};

use crate::{
    Length,
    expr::{Quantity, Scope},
};

const INCH_NM: i64 = 25_400_000;
const FINEST_INCH_DENOMINATOR: i64 = 64;
/// The step of the millimetres beside inches that are no fraction: finer than anything that is marked in wood.
const BESIDE_INCHES: Length = Length::from_um(10);

/// The unit of a design, with the step that computed sizes are rounded to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Unit {
    /// Millimetres, in decimals.
    Millimetre {
        /// The step of computed sizes.
        step: Step,
    },
    /// Inches of 25.4 mm exactly, in fractions.
    Inch {
        /// The finest fraction of computed sizes.
        denominator: Denominator,
    },
}

/// A step of whole nanometres, from 0.001 mm to 10 mm; in files a number of millimetres.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Step(Length);

/// The finest fraction of an inch; in files 16, 32 or 64.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "i64", into = "i64")]
pub enum Denominator {
    /// Whole 1/16 in.
    Sixteenths,
    /// Whole 1/32 in.
    ThirtySeconds,
    /// Whole 1/64 in.
    SixtyFourths,
}

/// The sign between whole millimetres and decimals.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub enum DecimalMark {
    /// 560.5
    #[default]
    Point,
    /// 560,5
    Comma,
}

impl DecimalMark {
    /// A plain number, written with a point, with this mark.
    #[must_use]
    pub fn put(self, number: &str) -> String {
        match self {
            Self::Point => number.to_owned(),
            Self::Comma => number.replace('.', ","),
        }
    }
}

/// A step or fraction that no unit can have.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum UnitError {
    /// The step is out of range.
    #[error("the step must be from 0.001 to 10 mm; common steps are 0.1, 0.5 and 1")]
    Step,
    /// The fraction of an inch is not one of those that rules show.
    #[error("the denominator must be 16, 32 or 64")]
    Denominator,
}

impl Step {
    /// The step of that length.
    ///
    /// # Errors
    /// Below 0.001 mm or above 10 mm.
    pub fn new(step: Length) -> Result<Self, UnitError> {
        let range = Length::from_um(1)..=Length::from_mm(10);
        if range.contains(&step) { Ok(Self(step)) } else { Err(UnitError::Step) }
    }

    /// The step as a length, above zero.
    #[must_use]
    pub const fn length(self) -> Length {
        self.0
    }
}

impl Denominator {
    /// The number below the line.
    #[must_use]
    pub const fn number(self) -> i64 {
        match self {
            Self::Sixteenths => 16,
            Self::ThirtySeconds => 32,
            Self::SixtyFourths => 64,
        }
    }
}

impl Default for Unit {
    /// Millimetres in steps of 0.5 mm.
    fn default() -> Self {
        Self::Millimetre { step: Step(Length::from_um(500)) }
    }
}

/// A length that is written in the unit of its design, with the unit named: `560.5 mm` or `22 1/16"`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Written {
    /// The length.
    pub length: Length,
    /// The unit of the design.
    pub unit: Unit,
}

impl fmt::Display for Written {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.unit.format_named(self.length, DecimalMark::Point))
    }
}

impl Unit {
    /// Millimetres with the given step.
    ///
    /// # Errors
    /// A step below 0.001 mm or above 10 mm.
    pub fn millimetre(step: Length) -> Result<Self, UnitError> {
        Ok(Self::Millimetre { step: Step::new(step)? })
    }

    /// Inches with the given finest fraction.
    ///
    /// # Errors
    /// A denominator other than 16, 32 and 64.
    pub fn inch(denominator: i64) -> Result<Self, UnitError> {
        Ok(Self::Inch { denominator: Denominator::try_from(denominator)? })
    }

    /// The step that computed sizes are rounded to, above zero.
    #[must_use]
    pub const fn step(self) -> Length {
        match self {
            Self::Millimetre { step } => step.length(),
            Self::Inch { denominator } => Length::from_nm(INCH_NM / denominator.number()),
        }
    }

    /// The length that the bare number 1 means: a millimetre or an inch.
    #[must_use]
    pub const fn whole(self) -> Length {
        match self {
            Self::Millimetre { .. } => Length::from_mm(1),
            Self::Inch { .. } => Length::from_nm(INCH_NM),
        }
    }

    /// The symbol of the unit: `mm` or `in`.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Millimetre { .. } => "mm",
            Self::Inch { .. } => "in",
        }
    }

    /// The length for a reader, as on a drawing: millimetres without a unit sign, inches with the inch mark.
    ///
    /// Millimetres get just the decimals that the exact value needs. Inches that are whole 64ths are a reduced
    /// fraction; any other length is marked `~`, as the nearest fraction of the unit's step, with the millimetres to
    /// two decimals beside it: `~22 1/16" (560.4 mm)`. So nothing is ever shown as exact that is not.
    #[must_use]
    pub fn format(self, length: Length, mark: DecimalMark) -> String {
        match self {
            Self::Millimetre { .. } => millimetres(length, mark),
            Self::Inch { .. } => exact_inches(length).unwrap_or_else(|| {
                let near = exact_inches(length.rounded_to(self.step())).unwrap_or_default();
                format!("~{near} ({} mm)", millimetres(length.rounded_to(BESIDE_INCHES), mark))
            }),
        }
    }

    /// The length with its unit named: `560.5 mm` or `22 1/16"`.
    #[must_use]
    pub fn format_named(self, length: Length, mark: DecimalMark) -> String {
        let text = self.format(length, mark);
        match self {
            Self::Millimetre { .. } => text + " mm",
            Self::Inch { .. } => text,
        }
    }

    /// The length as it is written with its unit named, for messages.
    #[must_use]
    pub const fn written(self, length: Length) -> Written {
        Written { length, unit: self }
    }

    /// The length as text that reads back as exactly this length: `560.5`, `22 1/16"`, or `560.4 mm` where the
    /// design is in inches and the length is not a whole 64th.
    #[must_use]
    pub fn input(self, length: Length) -> String {
        let exact = || millimetres(length, DecimalMark::Point);
        match self {
            Self::Millimetre { .. } => exact(),
            Self::Inch { .. } => exact_inches(length).unwrap_or_else(|| exact() + " mm"),
        }
    }
}

/// The exact millimetres with just as many decimals as needed.
fn millimetres(length: Length, mark: DecimalMark) -> String {
    let nm = length.nm().unsigned_abs();
    let sign = if length < Length::ZERO { "-" } else { "" };
    let (whole, rest) = (nm / 1_000_000, nm % 1_000_000);
    if rest == 0 {
        return format!("{sign}{whole}");
    }
    let mark = match mark {
        DecimalMark::Point => '.',
        DecimalMark::Comma => ',',
    };
    let decimals = format!("{rest:06}");
    format!("{sign}{whole}{mark}{}", decimals.trim_end_matches('0'))
}

/// The exact inches as a reduced fraction, if the length is a whole number of 64ths.
fn exact_inches(length: Length) -> Option<String> {
    let finest = INCH_NM / FINEST_INCH_DENOMINATOR;
    let nm = i128::from(length.nm());
    if nm % i128::from(finest) != 0 {
        return None;
    }
    let count = (nm / i128::from(finest)).unsigned_abs();
    let sign = if nm < 0 { "-" } else { "" };
    let (whole, mut upper, mut lower) = (count / 64, count % 64, 64_u128);
    while upper != 0 && upper % 2 == 0 {
        (upper, lower) = (upper / 2, lower / 2);
    }
    Some(match (whole, upper) {
        (_, 0) => format!("{sign}{whole}\""),
        (0, _) => format!("{sign}{upper}/{lower}\""),
        _ => format!("{sign}{whole} {upper}/{lower}\""),
    })
}

impl TryFrom<i64> for Denominator {
    type Error = UnitError;

    fn try_from(number: i64) -> Result<Self, UnitError> {
        match number {
            16 => Ok(Self::Sixteenths),
            32 => Ok(Self::ThirtySeconds),
            64 => Ok(Self::SixtyFourths),
            _ => Err(UnitError::Denominator),
        }
    }
}

impl From<Denominator> for i64 {
    fn from(denominator: Denominator) -> Self {
        denominator.number()
    }
}

impl Serialize for Step {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let nm = self.0.nm();
        if nm % 1_000_000 == 0 {
            serializer.serialize_i64(nm / 1_000_000)
        } else {
            serializer.serialize_f64(self.0.mm())
        }
    }
}

impl<'de> Deserialize<'de> for Step {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(StepVisitor)
    }
}

struct StepVisitor;

impl StepVisitor {
    /// Reads the decimal digits, not the binary fraction, so that 0.1 is exactly 0.1 mm.
    fn decimal<E: de::Error>(text: &str) -> Result<Step, E> {
        let quantity = Scope::empty(Unit::default()).quantity(text).map_err(|_| E::custom(UnitError::Step))?;
        let exact = match quantity {
            Quantity::Number(mm) => mm.times(crate::expr::Rational::whole(1_000_000)),
            Quantity::Length(nm) => Some(nm),
        };
        exact
            .filter(|nm| nm.denominator() == 1)
            .and_then(|nm| i64::try_from(nm.numerator()).ok())
            .and_then(|nm| Step::new(Length::from_nm(nm)).ok())
            .ok_or_else(|| E::custom(UnitError::Step))
    }
}

impl Visitor<'_> for StepVisitor {
    type Value = Step;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a step in millimetres, such as 0.5")
    }

    fn visit_i64<E: de::Error>(self, number: i64) -> Result<Step, E> {
        Self::decimal(&number.to_string())
    }

    fn visit_u64<E: de::Error>(self, number: u64) -> Result<Step, E> {
        Self::decimal(&number.to_string())
    }

    fn visit_f64<E: de::Error>(self, number: f64) -> Result<Step, E> {
        Self::decimal(&number.to_string())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(unit: Unit, nm: i64, expected: &str) {
        assert_eq!(unit.format(Length::from_nm(nm), DecimalMark::Point), expected, "{nm} nm");
    }

    #[test]
    fn millimetres_get_the_decimals_they_need() {
        let unit = Unit::default();
        for (nm, expected) in
            [(560_000_000, "560"), (560_500_000, "560.5"), (1, "0.000001"), (-250_000, "-0.25"), (0, "0")]
        {
            check(unit, nm, expected);
        }
        assert_eq!(unit.format_named(Length::from_um(560_500), DecimalMark::Comma), "560,5 mm");
        assert_eq!(unit.step(), Length::from_um(500));
        check(unit, i64::MIN, "-9223372036854.775808");
    }

    #[test]
    fn inches_are_reduced_fractions() {
        let unit = Unit::inch(16).unwrap();
        for (nm, expected) in [
            (560_387_500, "22 1/16\""),
            (-9_525_000, "-3/8\""),
            (25_400_000, "1\""),
            (-571_500_000, "-22 1/2\""),
            (396_875, "1/64\""),
            (0, "0\""),
        ] {
            check(unit, nm, expected);
        }
    }

    #[test]
    fn what_is_no_fraction_of_an_inch_says_so() {
        let unit = Unit::inch(16).unwrap();
        check(unit, 560_400_000, "~22 1/16\" (560.4 mm)");
        check(unit, 100_000, "~0\" (0.1 mm)");
        check(unit, 43_094_350, "~1 11/16\" (43.09 mm)");
        assert_eq!(unit.input(Length::from_um(560_400)), "560.4 mm");
    }

    /// Decimal equivalents of inch fractions, as printed in handbook tables (1/64 in = 0.396 875 mm; 5/32 in =
    /// 3.968 75 mm; 7/8 in = 22.225 mm): exact multiples of 25.4 mm, the international inch of 1959.
    #[test]
    fn steps_agree_with_the_table_of_inch_fractions() {
        for (denominator, nm) in [(16, 1_587_500), (32, 793_750), (64, 396_875)] {
            assert_eq!(Unit::inch(denominator).unwrap().step(), Length::from_nm(nm));
        }
        let unit = Unit::inch(64).unwrap();
        check(unit, 3_968_750, "5/32\"");
        check(unit, 22_225_000, "7/8\"");
    }

    fn check_file(text: &str, expected: Result<&str, &str>) {
        let read = ron::from_str::<Unit>(text);
        match expected {
            Ok(written) => assert_eq!(ron::to_string(&read.unwrap()).unwrap(), written),
            Err(message) => assert_eq!(read.unwrap_err().code.to_string(), message),
        }
    }

    #[test]
    fn files_say_the_unit() {
        check_file("Millimetre(step: 0.1)", Ok("Millimetre(step:0.1)"));
        check_file("Millimetre(step: 1)", Ok("Millimetre(step:1)"));
        check_file("Millimetre(step: 0.001)", Ok("Millimetre(step:0.001)"));
        check_file("Inch(denominator: 32)", Ok("Inch(denominator:32)"));
        let step = Err("the step must be from 0.001 to 10 mm; common steps are 0.1, 0.5 and 1");
        for text in ["0", "-1", "11", "0.0001", "0.0000001", "1e300"] {
            check_file(&format!("Millimetre(step: {text})"), step);
        }
        for text in ["0", "10", "-16", "128"] {
            check_file(&format!("Inch(denominator: {text})"), Err("the denominator must be 16, 32 or 64"));
        }
    }
}
