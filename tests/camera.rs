//! The camera of the 3D view, without a browser: right-handed, true to proportion, within limits.
#![cfg(not(target_arch = "wasm32"))]
#![allow(missing_docs, dead_code)]

// The page is built for the browser alone; this part of it is plain arithmetic.
#[path = "../src/app/view3d/camera.rs"]
mod camera;
// Where that part looks for it.
mod units {
    pub use copewright::units::limited;
}

use camera::{Camera, Vector, View};

const CENTRE: Vector = [3.0, -2.0, 10.0];
const SIZE: (f64, f64) = (400.0, 300.0);

fn cameras() -> impl Iterator<Item = Camera> {
    (0..24).flat_map(|turn| {
        [-89.0, -40.0, 0.0, 20.0, 89.0]
            .map(|pitch| Camera::from_degrees(f64::from(turn) * 15.0, pitch))
    })
}

fn dot(a: Vector, b: Vector) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn clip(view: &View, place: Vector) -> [f64; 4] {
    let matrix = view.matrix().map(f64::from);
    [0, 1, 2, 3].map(|row| {
        (0..3)
            .map(|axis| matrix[4 * axis + row] * place[axis])
            .sum::<f64>()
            + matrix[12 + row]
    })
}

#[test]
fn the_picture_is_never_mirrored() {
    for camera in cameras() {
        let view = camera.view(CENTRE, 50.0, SIZE);
        let (r, u, e) = (view.right, view.up, view.eye);
        for vector in [r, u, e] {
            assert!((dot(vector, vector) - 1.0).abs() < 1e-12);
        }
        // right × up = towards the viewer
        let cross = [
            r[1] * u[2] - r[2] * u[1],
            r[2] * u[0] - r[0] * u[2],
            r[0] * u[1] - r[1] * u[0],
        ];
        assert!((0..3).all(|axis| (cross[axis] - e[axis]).abs() < 1e-12));
    }
}

#[test]
fn seen_from_the_heel_plus_y_is_on_the_right_and_seen_from_minus_y_the_heel_is() {
    let centre = [0.0; 3];
    let heel = Camera::from_degrees(0.0, 0.0).view(centre, 50.0, SIZE);
    let (x, y) = heel.project([0.0, 10.0, 20.0]);
    assert!(x > 200.0 && y < 150.0);
    assert!(heel.facing([1.0, 0.0, 0.0]) > 0.999);
    let side = Camera::from_degrees(-90.0, 0.0).view(centre, 50.0, SIZE);
    assert!(side.project([10.0, 0.0, 0.0]).0 > 200.0);
    assert!(side.facing([0.0, -1.0, 0.0]) > 0.999);
}

#[test]
fn matrix_and_labels_agree_and_all_of_the_ball_is_kept() {
    for camera in cameras() {
        let view = camera.view(CENTRE, 50.0, SIZE);
        for direction in [[1.0, 0.0, 0.0], [0.0, -0.6, 0.8], [0.0, 0.0, -1.0]] {
            let place = [0, 1, 2].map(|axis| CENTRE[axis] + 49.9 * direction[axis]);
            let [x, y, z, w] = clip(&view, place);
            assert_eq!(w, 1.0);
            assert!(x.abs() <= 1.0 && y.abs() <= 1.0 && z.abs() < 1.0);
            let (px, py) = view.project(place);
            assert!(((x + 1.0) * SIZE.0 / 2.0 - px).abs() < 1e-3);
            assert!(((1.0 - y) * SIZE.1 / 2.0 - py).abs() < 1e-3);
        }
        // Nearer to the viewer is in front: smaller depth.
        let near = [0, 1, 2].map(|axis| CENTRE[axis] + view.eye[axis]);
        assert!(clip(&view, near)[2] < clip(&view, CENTRE)[2]);
    }
}

#[test]
fn dragging_moves_what_is_in_front_with_the_finger() {
    let camera = Camera::from_degrees(20.0, 10.0);
    let front = camera.view(CENTRE, 50.0, SIZE).eye;
    let place = [0, 1, 2].map(|axis| CENTRE[axis] + 30.0 * front[axis]);
    let at = |camera: Camera| camera.view(CENTRE, 50.0, SIZE).project(place);
    let still = at(camera);
    assert!(at(camera.drag(0.1, 0.0)).0 > still.0 + 1.0);
    assert!(at(camera.drag(0.0, 0.1)).1 < still.1 - 1.0);
}

#[test]
fn zoom_and_tilt_stay_within_limits() {
    let mut camera = Camera::from_degrees(0.0, 0.0);
    for _ in 0..200 {
        camera = camera.magnify(1.3).drag(0.3, 0.3);
    }
    let view = camera.view(CENTRE, 50.0, SIZE);
    assert!(view.per_unit < 50.0 && view.eye[2] > -1.0 && view.up[2] > 0.0);
    assert_eq!(camera.magnify(f64::NAN), camera);
    assert_eq!(camera.magnify(0.0), camera);
    assert_eq!(camera.magnify(f64::INFINITY), camera);
}
