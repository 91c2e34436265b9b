//! Roots of one function of one variable, kept inside a bracket.

/// Evaluations after which a bracketed search stops; bisection alone needs 52 for the
/// whole mantissa, so at the limit the bracket is as narrow as numbers allow.
const MAX_EVALUATIONS: usize = 60;

/// What a bracketed search found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Root {
    /// Where.
    pub x: f64,
    /// The function there: about zero, unless it jumps across zero.
    pub value: f64,
}

/// The root of `f` between `a` and `b`, whose values `fa` and `fb` differ in sign.
///
/// Illinois' variant of false position, falling back to bisection when a step gains too
/// little, so that a function that *jumps* through zero is closed in on as well (the jump
/// is returned as its place). Stops when the bracket is narrower than `x_tol`.
/// Returns `None` if the signs agree.
///
/// Source: Dowell and Jarratt, "A modified regula falsi method", BIT 11 (1971).
pub fn bracketed(
    mut f: impl FnMut(f64) -> f64,
    (mut a, mut fa): (f64, f64),
    (mut b, mut fb): (f64, f64),
    x_tol: f64,
) -> Option<Root> {
    if fa == 0.0 {
        return Some(Root { x: a, value: fa });
    }
    if fb == 0.0 {
        return Some(Root { x: b, value: fb });
    }
    // Signs that agree, and values that are no numbers, bracket nothing.
    if fa * fb >= 0.0 || (fa * fb).is_nan() {
        return None;
    }
    // `fa` is halved by the method as it goes; only `b` carries its true value.
    let mut width_before = (b - a).abs();
    for step in 0..MAX_EVALUATIONS {
        let mut x = b - fb * (b - a) / (fb - fa);
        if step % 4 == 3 {
            if (b - a).abs() > 0.25 * width_before {
                x = 0.5 * (a + b);
            }
            width_before = (b - a).abs();
        }
        let fx = f(x);
        if fx * fb < 0.0 {
            (a, fa) = (b, fb);
        } else {
            fa *= 0.5;
        }
        let moved = (x - b).abs();
        (b, fb) = (x, fx);
        if fb == 0.0 || (b - a).abs() <= x_tol || moved <= 0.25 * x_tol {
            break;
        }
    }
    Some(Root { x: b, value: fb })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_a_plain_root() {
        let f = |x: f64| x.cos() - x;
        let root = bracketed(f, (0.0, f(0.0)), (1.0, f(1.0)), 1e-14).expect("signs differ");
        assert!((root.x - 0.739_085_133_215_160_6).abs() < 1e-13);
    }

    #[test]
    fn closes_in_on_a_jump() {
        let f = |x: f64| if x < 0.3 { -1.0 } else { 2.0 };
        let root = bracketed(f, (0.0, f(0.0)), (1.0, f(1.0)), 1e-12).expect("signs differ");
        assert!((root.x - 0.3).abs() < 1e-10, "{}", root.x);
    }

    #[test]
    fn refuses_equal_signs() {
        assert_eq!(bracketed(|x| x * x + 1.0, (0.0, 1.0), (1.0, 2.0), 1e-9), None);
    }
}
