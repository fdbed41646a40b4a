//! Materials: density, stiffness, strength, creep and movement, each value with its source.

mod boards;
mod long_term;
mod lookup;
mod solid;
mod strength_classes;

pub use boards::{BoardClass, MDF_EN_622_5, PARTICLEBOARD_P2, Plywood, class_for_thickness, plywood};
pub use long_term::{
    CreepRow, Duration, DurationRow, EUROCODE_5_CREEP, EUROCODE_5_DURATION, KDEF, KMOD, ServiceClass, final_deflection,
    kdef, kmod,
};
pub use lookup::{BoardProperties, properties};
pub use solid::{SOLID_WOODS, SolidWood, solid_wood};
pub use strength_classes::{EN_338_CLASSES, StrengthClass, strength_class};
