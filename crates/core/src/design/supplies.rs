//! How small supplies are sold, for the buying list: fittings, dowels, screws, banding, glue.

use serde::{Deserialize, Serialize};

/// How one supply is sold. Its name in the design is that of a fitting or a banding, or one that the buying list gives,
/// such as `dowel 8x40` or `glue`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Supply {
    /// What one pack holds: pieces; metres of banding, or bars where it is sold in bars; grams of glue.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub pack: f64,
    /// Price of one pack.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<f64>,
    /// What is in hand already, in the unit of `pack`.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub in_hand: f64,
}

const fn one() -> f64 {
    1.0
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands over a reference")]
fn is_one(pack: &f64) -> bool {
    *pack == 1.0
}
