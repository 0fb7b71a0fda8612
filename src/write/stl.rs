//! Triangles for printers of plastics and viewers: binary STL, little-endian, millimetres.
//!
//! The format is the one published by 3D Systems ("StereoLithography Interface Specification",
//! 1988): 80 bytes of anything, the number of triangles, and fifty bytes for each.

use crate::cope::Point3;
use crate::write::number::{self, NotFinite};
use crate::write::plain::plain;

/// Bytes before the number of triangles.
const HEADER: usize = 80;

/// A closed surface as an STL file. Coordinates are rounded to 32 bits, equal ones equally, so that
/// a closed surface stays closed; triangles that rounding leaves without a third corner go, their
/// neighbours meeting in the edge that stays. `name` is put into the header, as far as it fits.
///
/// # Errors
/// A number that is not finite.
pub fn stl(positions: &[Point3], triangles: &[[u32; 3]], name: &str) -> Result<Vec<u8>, NotFinite> {
    let mut body = Vec::with_capacity(50 * triangles.len());
    let mut count: u32 = 0;
    for triangle in triangles {
        let mut corners = [[0.0_f32; 3]; 3];
        for (corner, index) in corners.iter_mut().zip(triangle) {
            let place = positions.get(*index as usize);
            for (narrow, part) in corner.iter_mut().zip(place.unwrap_or(&[f64::NAN; 3])) {
                *narrow = rounded(*part)?;
            }
        }
        let [a, b, c] = corners;
        if a == b || b == c || c == a {
            continue;
        }
        count += 1;
        for vector in [normal(corners), a, b, c] {
            for part in vector {
                body.extend_from_slice(&part.to_le_bytes());
            }
        }
        body.extend_from_slice(&[0; 2]);
    }
    // "solid" at the very start would be taken for the format in words.
    let words: String = name.chars().map(plain).collect();
    let mut file = format!("Copewright, lengths in mm: {words}").into_bytes();
    file.resize(HEADER, b' ');
    file.extend_from_slice(&count.to_le_bytes());
    file.append(&mut body);
    Ok(file)
}

/// A coordinate of 32 bits; zero has no sign, for some readers tell the two zeros apart.
fn rounded(number: f64) -> Result<f32, NotFinite> {
    #[expect(
        clippy::cast_possible_truncation,
        reason = "the rounding that is meant"
    )]
    let narrow = number::finite(number)? as f32;
    Ok(narrow + 0.0)
}

/// The direction a triangle faces; zero where it has no area, which readers take for unknown.
fn normal(corners: [[f32; 3]; 3]) -> [f32; 3] {
    let [a, b, c] = corners.map(|corner| corner.map(f64::from));
    let minus = |a: Point3, b: Point3| [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
    let (u, v) = (minus(b, a), minus(c, a));
    let cross = [
        u[1] * v[2] - u[2] * v[1],
        u[2] * v[0] - u[0] * v[2],
        u[0] * v[1] - u[1] * v[0],
    ];
    let length = cross.iter().map(|part| part * part).sum::<f64>().sqrt();
    cross.map(|part| {
        let part = if length > 0.0 { part / length } else { 0.0 };
        #[expect(
            clippy::cast_possible_truncation,
            reason = "the rounding that is meant"
        )]
        let narrow = part as f32;
        narrow + 0.0
    })
}
