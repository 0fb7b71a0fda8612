//! Writes coped ends and marking sleeves, of the launching trolley and of awkward joints, one STL
//! file each into the folder named. `tests/reference/check_solids.py` judges them.

use std::error::Error;
use std::path::PathBuf;

use copewright::cope::{Cope, CutMethod, Solid};
use copewright::joint::{Joint, JointError, RoundTube};
use copewright::piece::{Sleeve, SleeveSizes, Template, Wrap};
use copewright::units::{Angle, Length, Unit};
use copewright::write::stl;

/// Branch and its wall, main, angle, offset, turn of the heel; lengths in mm, turns in degrees.
const JOINTS: [(&str, [f64; 6]); 8] = [
    ("usual", [42.4, 2.6, 48.3, 60.0, 0.0, 0.0]),
    ("offset", [42.4, 2.6, 48.3, 60.0, 5.0, 33.0]),
    ("equal", [50.0, 2.0, 50.0, 90.0, 0.0, 90.0]),
    ("hanging-past", [40.0, 4.0, 60.0, 70.0, 20.0, 0.0]),
    ("wider", [60.0, 8.0, 48.0, 45.0, -6.0, 200.0]),
    ("thin", [6.0, 1.0, 8.0, 75.0, 0.5, 10.0]),
    ("large", [219.1, 6.3, 273.0, 60.0, 30.0, 77.0]),
    ("slanting", [42.4, 2.6, 48.3, 15.0, 0.0, 0.0]),
];

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args().nth(1).map(PathBuf::from);
    let folder = folder.ok_or("name the folder to write to")?;
    for (name, file) in solids()? {
        std::fs::write(folder.join(name + ".stl"), file)?;
    }
    Ok(())
}

/// The name of each file and what is in it.
///
/// # Errors
/// None for the joints above.
pub fn solids() -> Result<Vec<(String, Vec<u8>)>, String> {
    let mm = Length::from_mm;
    let refused = |error: JointError| error.sentence(Unit::Millimetre);
    let mut files = Vec::new();
    for (name, [branch, wall, main, angle, offset, heel]) in JOINTS {
        let tube = RoundTube::new(mm(branch), mm(wall)).map_err(refused)?;
        let angle = Angle::from_deg(angle);
        let joint = Joint::round(tube, mm(main), angle, mm(offset)).map_err(refused)?;
        let cope = Cope::new(&joint, CutMethod::Saw, Length::ZERO).map_err(refused)?;
        let heel = Angle::from_deg(heel);
        let end = Solid::new(&cope, heel).branch;
        let file = stl(&end.positions, &end.triangles, name).map_err(|e| e.to_string())?;
        files.push((format!("{name}-end"), file));
        let wrap = Wrap::computed(mm(branch), mm(0.1));
        let template = Template::new(cope, wrap, heel, mm(10.0));
        let sleeve = Sleeve::new(&template, &SleeveSizes::default())
            .map_err(|error| error.sentence(Unit::Millimetre))?;
        let file = stl(&sleeve.positions, &sleeve.triangles, name).map_err(|e| e.to_string())?;
        files.push((format!("{name}-sleeve"), file));
    }
    Ok(files)
}
