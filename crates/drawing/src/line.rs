//! Line classes, widths and dash patterns after ISO 128.

/// The series of line widths of ISO 128, in millimetres (each step is the root of two, rounded as published).
#[cfg(test)]
const WIDTH_SERIES_MM: [f64; 9] = [0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0];

/// What a line means, and so how it is drawn (ISO 128-2 numbers in brackets).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LineClass {
    /// A visible outline or edge: continuous wide (01.2).
    VisibleOutline,
    /// A hidden edge: dashed narrow (02.1).
    Hidden,
    /// A centre or symmetry line: dash-dot narrow (04.1).
    Centre,
    /// The trace of a cutting plane: dash-dot wide (04.2).
    CuttingPlane,
    /// A dimension, extension, leader or reference line: continuous narrow (01.1).
    Dimension,
    /// An adjacent part, or the end position of a moving part: dash-double-dot narrow (05.1).
    Adjacent,
    /// Hatching of a cut face: continuous narrow (01.1).
    Hatching,
    /// The limit of a part that is broken off: zigzag, continuous narrow (01.1).
    Break,
    /// The frame of the sheet and its centring marks: 0.7 mm wide whatever the group (ISO 5457).
    FrameWide,
    /// The grid reference border, title block and table lines: 0.35 mm (ISO 5457).
    FrameNarrow,
    /// A graphical symbol: the width of the lettering.
    Symbol,
}

impl LineClass {
    /// Every class, in the order in which a legend would list them.
    pub const ALL: [Self; 11] = [
        Self::VisibleOutline,
        Self::Hidden,
        Self::Centre,
        Self::CuttingPlane,
        Self::Dimension,
        Self::Adjacent,
        Self::Hatching,
        Self::Break,
        Self::FrameWide,
        Self::FrameNarrow,
        Self::Symbol,
    ];

    /// The repeating dash and gap lengths in millimetres for a line `width_mm` wide; empty when continuous.
    ///
    /// Element lengths in line widths d (ISO 128-2): dash 12 d, long dash 24 d, gap 3 d, dot 0.5 d.
    #[must_use]
    pub fn dashes_mm(self, width_mm: f64) -> Vec<f64> {
        let in_widths: &[f64] = match self {
            Self::Hidden => &[DASH, GAP],
            Self::Centre | Self::CuttingPlane => &[LONG_DASH, GAP, DOT, GAP],
            Self::Adjacent => &[LONG_DASH, GAP, DOT, GAP, DOT, GAP],
            _ => &[],
        };
        in_widths.iter().map(|length| length * width_mm).collect()
    }
}

/// The length of a dash, in line widths.
pub const DASH: f64 = 12.0;
/// The length of a long dash, in line widths.
pub const LONG_DASH: f64 = 24.0;
/// The length of a gap, in line widths.
pub const GAP: f64 = 3.0;
/// The length of a dot, in line widths.
pub const DOT: f64 = 0.5;

/// A group of line widths, named after its wide line (ISO 128).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LineGroup {
    /// Visible outlines and cutting planes, in millimetres.
    pub wide_mm: f64,
    /// All narrow lines, in millimetres.
    pub narrow_mm: f64,
    /// Lettering and graphical symbols, in millimetres.
    pub lettering_mm: f64,
}

impl LineGroup {
    /// Group 0.5, for sheets A4 to A2.
    pub const HALF: Self = Self { wide_mm: 0.5, narrow_mm: 0.25, lettering_mm: 0.35 };
    /// Group 0.7, for sheets A1 and A0.
    pub const SEVEN: Self = Self { wide_mm: 0.7, narrow_mm: 0.35, lettering_mm: 0.5 };

    /// The width of a line of this class, in millimetres.
    #[must_use]
    pub fn width_mm(self, class: LineClass) -> f64 {
        match class {
            LineClass::VisibleOutline | LineClass::CuttingPlane => self.wide_mm,
            LineClass::Hidden
            | LineClass::Centre
            | LineClass::Dimension
            | LineClass::Adjacent
            | LineClass::Hatching
            | LineClass::Break => self.narrow_mm,
            LineClass::FrameWide => FRAME_MM,
            LineClass::FrameNarrow => GRID_MM,
            LineClass::Symbol => self.lettering_mm,
        }
    }
}

/// The width of the frame and of the centring marks, in millimetres (ISO 5457).
pub const FRAME_MM: f64 = 0.7;
/// The width of the grid reference border, in millimetres (ISO 5457).
pub const GRID_MM: f64 = 0.35;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn widths_follow_the_published_series_and_ratio() {
        // ISO 128 table as printed in school textbooks: steps of the root of two, wide to narrow 2:1.
        for pair in WIDTH_SERIES_MM.windows(2) {
            let step = pair[1] / pair[0];
            assert!((step - 2f64.sqrt()).abs() < 0.04, "step {step} of {pair:?}");
        }
        for group in [LineGroup::HALF, LineGroup::SEVEN] {
            assert_eq!(group.wide_mm, 2.0 * group.narrow_mm);
            for class in LineClass::ALL {
                let width = group.width_mm(class);
                assert!(WIDTH_SERIES_MM.contains(&width), "{class:?} is {width}");
            }
        }
        assert_eq!(LineGroup::HALF, LineGroup { wide_mm: 0.5, narrow_mm: 0.25, lettering_mm: 0.35 });
        assert_eq!(LineGroup::SEVEN, LineGroup { wide_mm: 0.7, narrow_mm: 0.35, lettering_mm: 0.5 });
    }

    #[test]
    fn dash_elements_follow_iso_128() {
        // EN ISO 128-21 as quoted on school sheets: dash 12 d, gap 3 d, long dash 24 d, dot 0.5 d.
        let check = |class: LineClass, expected: &[f64]| assert_eq!(class.dashes_mm(0.25), expected, "{class:?}");
        check(LineClass::Hidden, &[3.0, 0.75]);
        check(LineClass::Centre, &[6.0, 0.75, 0.125, 0.75]);
        check(LineClass::Adjacent, &[6.0, 0.75, 0.125, 0.75, 0.125, 0.75]);
        check(LineClass::VisibleOutline, &[]);
        assert_eq!(LineClass::CuttingPlane.dashes_mm(0.5), [12.0, 1.5, 0.25, 1.5]);
    }
}
