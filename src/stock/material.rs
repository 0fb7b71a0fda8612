//! What tube is made of, for its mass.

/// Where the densities come from.
///
/// Steel: a weight sheet for steel tube (scribd.com, document 358775155), 7.85 g/cm³, alloys 7.75
/// to 8.05. Stainless steel (EN 10088-1, grade 1.4301) and aluminium (EN AW-6060 and 6061) from
/// memory.
pub const MATERIAL_SOURCE: &str = "Steel 7.85 g/cm³, the figure of tube weight tables (alloys 7.75 to 8.05); stainless steel \
     (1.4301, AISI 304) 7.9 and aluminium (6060, 6061) 2.7 from memory.";

/// Mass by volume.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Density(f64);

impl Density {
    /// Carbon steel, 7850 kg/m³. Source: [`MATERIAL_SOURCE`].
    pub const STEEL: Self = Self(7850.0);

    /// A density in kg/m³; `None` for one that no metal has: below 500 or above 25,000 (the
    /// lightest and the densest are lithium, 534, and osmium, 22,590; from memory).
    #[must_use]
    pub fn from_kg_per_m3(kg_per_m3: f64) -> Option<Self> {
        (500.0..=25_000.0)
            .contains(&kg_per_m3)
            .then_some(Self(kg_per_m3))
    }

    /// This density in kg/m³.
    #[must_use]
    pub const fn kg_per_m3(self) -> f64 {
        self.0
    }
}

/// What tube is made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Material {
    /// Its name.
    pub name: &'static str,
    /// Its density.
    pub density: Density,
}

/// Usual materials of tube. Source: [`MATERIAL_SOURCE`].
pub static MATERIALS: [Material; 3] = [
    Material {
        name: "steel",
        density: Density::STEEL,
    },
    Material {
        name: "stainless steel",
        density: Density(7900.0),
    },
    Material {
        name: "aluminium",
        density: Density(2700.0),
    },
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_material_has_a_density_that_would_be_taken() {
        for material in &MATERIALS {
            let own = material.density;
            assert_eq!(Density::from_kg_per_m3(own.kg_per_m3()), Some(own));
        }
        for no_metal in [f64::NAN, 0.0, -7850.0, 7.85, 7.85e6] {
            assert_eq!(Density::from_kg_per_m3(no_metal), None, "{no_metal}");
        }
    }
}
