//! Points, polylines, rings, regions, planes, strips, roots and closed meshes: geometry with no
//! boat in it.
//!
//! All lengths are mm, all angles radians. Nothing here knows of hulls, files or drawing.

pub mod homography;
pub mod mesh;
pub mod plane;
pub mod polyline;
pub mod region;
pub mod ring;
pub mod roots;
pub mod segment;
pub mod slivers;
pub mod strips;

/// A point of space, mm.
pub type P3 = nalgebra::Point3<f64>;
/// A direction or difference in space.
pub type V3 = nalgebra::Vector3<f64>;
/// A point of a flat pattern or drawing, mm.
pub type P2 = nalgebra::Point2<f64>;
/// A direction or difference in the flat.
pub type V2 = nalgebra::Vector2<f64>;

/// `v` at unit length, or `None` if it is too short to have a direction.
///
/// Used instead of `normalize()`, which turns a zero vector into NaN.
pub fn unit(v: V3) -> Option<V3> {
    v.try_normalize(1e-12)
}

/// The angle from `a` to `b` in radians, 0 to π; 0 if either has no length.
/// Stays exact for small angles, where the arc cosine does not.
pub fn angle_between(a: V3, b: V3) -> f64 {
    a.cross(&b).norm().atan2(a.dot(&b))
}
