//! Vectors in space.

/// Three coordinates, mm.
pub type Vector = [f64; 3];

pub fn sum(a: Vector, b: Vector) -> Vector {
    [0, 1, 2].map(|i| a[i] + b[i])
}

pub fn scaled(a: Vector, by: f64) -> Vector {
    a.map(|x| x * by)
}

pub fn dot(a: Vector, b: Vector) -> f64 {
    (0..3).map(|i| a[i] * b[i]).sum()
}

pub fn length(a: Vector) -> f64 {
    dot(a, a).sqrt()
}

pub fn unit(a: Vector) -> Vector {
    scaled(a, 1.0 / length(a))
}

pub fn cross(a: Vector, b: Vector) -> Vector {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}
