//! Places and directions in space, mm.

pub type Vector = [f64; 3];

pub fn sum(a: Vector, b: Vector) -> Vector {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

pub fn scaled(a: Vector, by: f64) -> Vector {
    a.map(|part| part * by)
}

pub fn less(a: Vector, b: Vector) -> Vector {
    sum(a, scaled(b, -1.0))
}

pub fn dot(a: Vector, b: Vector) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub fn cross(a: Vector, b: Vector) -> Vector {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

pub fn length(a: Vector) -> f64 {
    dot(a, a).sqrt()
}

pub fn unit(a: Vector) -> Vector {
    scaled(a, 1.0 / length(a))
}

/// The part of `a` that is square to the unit `b`, as a unit.
pub fn square_to(a: Vector, b: Vector) -> Vector {
    unit(less(a, scaled(b, dot(a, b))))
}

/// `a` turned about the unit `axis`, right-handed, by an angle in radians (Rodrigues' formula).
pub fn turned(a: Vector, axis: Vector, by: f64) -> Vector {
    let (sin, cos) = by.sin_cos();
    let along = scaled(axis, dot(a, axis) * (1.0 - cos));
    sum(sum(scaled(a, cos), scaled(cross(axis, a), sin)), along)
}

/// The turn from `from` to `to`, both square to the unit `axis`, right-handed, in radians.
pub fn turn_about(axis: Vector, from: Vector, to: Vector) -> f64 {
    dot(axis, cross(from, to)).atan2(dot(from, to))
}
