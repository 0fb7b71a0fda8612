//! How fast a hole saw's teeth may run, and the spindle speed that makes it so.

use std::f64::consts::PI;

use crate::units::{Length, write_fixed};

/// Where the cutting speeds come from.
pub const CUTTING_SPEED_SOURCE: &str = "Mild steel: 27.4 m/min (90 ft/min), the speed that the usual table of bi-metal hole saws comes \
     to, with cutting oil and clamped work; stainless steel: about half of it, as the same table \
     says. Aluminium: 76.2 m/min (250 ft/min), from memory. Turns per minute = speed / (π × diameter).";

/// Speed of the teeth over the work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CuttingSpeed {
    /// Metres a minute.
    pub m_per_min: f64,
}

/// By the names in [`crate::stock::MATERIALS`].
static SPEEDS: [(&str, f64); 3] = [
    ("steel", 27.432),
    ("stainless steel", 13.716),
    ("aluminium", 76.2),
];

impl CuttingSpeed {
    /// The speed for a material by its name; `None` for one that is not listed.
    #[must_use]
    pub fn of(material: &str) -> Option<Self> {
        let (_, m_per_min) = SPEEDS.iter().find(|(name, _)| *name == material)?;
        Some(Self {
            m_per_min: *m_per_min,
        })
    }

    /// Turns per minute of a saw of that diameter: v / (π D); `None` for a diameter that is none.
    #[must_use]
    pub fn rpm(self, diameter: Length) -> Option<f64> {
        let rpm = self.m_per_min * 1000.0 / (PI * diameter.mm());
        (rpm.is_finite() && rpm > 0.0).then_some(rpm)
    }
}

/// Turns per minute in words: to the nearest 5, finer than a drill press can be set (common
/// practice, no source).
#[must_use]
pub fn write_rpm(rpm: f64) -> String {
    write_fixed((rpm / 5.0).round() * 5.0, 0)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::stock::{MATERIALS, hole_saws};

    #[test]
    fn every_material_has_a_speed() {
        for material in &MATERIALS {
            assert!(
                CuttingSpeed::of(material.name).is_some(),
                "{}",
                material.name
            );
        }
        assert_eq!(CuttingSpeed::of("glass"), None);
        assert_eq!(CuttingSpeed::of("steel").unwrap().rpm(Length::ZERO), None);
    }

    #[test]
    fn speeds_in_steel_are_those_of_the_published_table() {
        // The table of a hole-saw maker (bi-metal, mild steel, cutting oil); its steps are 5 to 30
        // turns wide, so 6 %.
        let steel = CuttingSpeed::of("steel").unwrap();
        let mut compared = 0;
        for saw in hole_saws() {
            let Some(listed) = saw.mild_steel_rpm else {
                continue;
            };
            let rpm = steel.rpm(saw.diameter).unwrap();
            assert!(
                (rpm / f64::from(listed) - 1.0).abs() < 0.06,
                "{listed}: {rpm}"
            );
            compared += 1;
        }
        assert_eq!(compared, 30);
        // Worked, 90 ft/min: 12 × 90 / (π × 1) = 343.77 for 1 in, 171.89 for 2 in.
        let rpm = |inches| steel.rpm(Length::from_inches(inches)).unwrap();
        assert!((rpm(1.0) - 343.77).abs() < 0.01);
        assert!((rpm(2.0) - 171.89).abs() < 0.01);
    }
}
