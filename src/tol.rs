//! Every tolerance of the program: its name, unit, reason, and what happens at the limit.
//!
//! A number that decides something lives here or as a named constant beside the one
//! function that uses it; nothing else in the crate compares against a bare number.

/// Two points closer than this (mm) are one point. A tenth of the width of a pencil
/// line's edge is far above it, rounding of coordinates of some metres far below.
pub const SAME_POINT_MM: f64 = 1e-5;

/// A ruling shorter than this (mm) has no direction: the two lines meet there, as the
/// chine and the keel of a flat bottom do at the stem.
pub const NO_RULING_MM: f64 = 1e-3;

/// The estimated error (mm) that a pattern may have before more rulings are taken; the
/// design asks for under 0.1 mm. A twentieth of a saw's wander.
pub const PATTERN_ERROR_MM: f64 = 0.05;

/// Arc lengths are found to this (mm) over a whole line: a hundredth of what a tape shows.
pub const ARC_LENGTH_MM: f64 = 1e-4;

/// The warp of a ruling (radians) below which the surface counts as developable there: a
/// fifth of a degree stretches the sheet's edges by a millionth (w²/12), which no sheet
/// shows and no saw follows. Our judgement; no source.
pub const DEVELOPABLE_WARP: f64 = 0.2 * std::f64::consts::PI / 180.0;

/// Warp (radians) from which the twist is worth a look: it asks a stretch of about
/// 0.02 % of the sheet's edge (w²/12). Our judgement; no source.
pub const WATCH_WARP: f64 = 3.0 * std::f64::consts::PI / 180.0;

/// Warp (radians) that we would not ask of a sheet: the edge stretch w²/12 passes
/// 0.3 %, half the strain at which its wood breaks. Our judgement; no source.
pub const STOP_WARP: f64 = 11.0 * std::f64::consts::PI / 180.0;

/// Two edges that are to be joined may differ in length by this (mm) without remark:
/// what planing to fit takes off.
pub const MATING_EDGE_MM: f64 = 2.0;

/// A point of an offsets table may lie this far (mm) off the transom plane without
/// remark: what reading a plan to the nearest eighth of an inch puts it out by. Our judgement.
pub const OFF_TRANSOM_MM: f64 = 3.0;
/// From this (mm) on it is noted: the edge of the transom is sawn to the plane.
pub const OFF_TRANSOM_NOTED_MM: f64 = 1.0;

/// No coordinate of a hull of this program exceeds this (mm): boats of 2.5 to 6 m,
/// with room for a slip of units to be noticed.
pub const LARGEST_COORDINATE_MM: f64 = 20_000.0;

/// No half-breadth or height exceeds this (mm): the same boats, with the same room.
pub const LARGEST_ATHWART_MM: f64 = 5_000.0;

/// Coordinates read from a table are kept to this (mm), so that 39 in is 990.6 mm and not
/// 990.5999999999999: a tenth of what is one point, and far below what any plan says.
pub const COORDINATE_STEP_MM: f64 = 1e-6;

/// A hull that holds less than this (mm³: a litre) is no boat: her lines lie in one plane, or
/// her bottom above her sheer. Our judgement; no source.
pub const LEAST_ROOM_MM3: f64 = 1e6;
