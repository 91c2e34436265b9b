//! The equations of an unbroken batten: its second derivatives at the ducks.
//!
//! Source: de Boor, *A Practical Guide to Splines* (1978), chapter IV.

use nalgebra::{DMatrix, DVector};

use super::spline::{End, Span, SplineError};
use crate::geom::{P3, V3, unit};

/// Solves for the second derivatives of one unbroken batten and appends its spans.
pub(super) fn solve_piece(
    ducks: &[P3],
    knots: &[f64],
    first: End,
    last: End,
    spans: &mut Vec<Span>,
) -> Result<(), SplineError> {
    let n = ducks.len();
    let h: Vec<f64> = knots.windows(2).map(|w| w[1] - w[0]).collect();
    let slope: Vec<V3> = (0..n - 1).map(|i| (ducks[i + 1] - ducks[i]) / h[i]).collect();
    let direction = |v: V3| unit(v).ok_or(SplineError::NoTangent);

    let mut matrix = DMatrix::<f64>::zeros(n, n);
    let mut right = [DVector::<f64>::zeros(n), DVector::zeros(n), DVector::zeros(n)];
    let mut set_right = |row: usize, v: V3| {
        for axis in 0..3 {
            right[axis][row] = v[axis];
        }
    };
    for i in 1..n - 1 {
        matrix[(i, i - 1)] = h[i - 1];
        matrix[(i, i)] = 2.0 * (h[i - 1] + h[i]);
        matrix[(i, i + 1)] = h[i];
        set_right(i, 6.0 * (slope[i] - slope[i - 1]));
    }
    let both_run_on = matches!((first, last), (End::NotAKnot, End::NotAKnot));
    let z = n - 1;
    match first {
        End::Free => matrix[(0, 0)] = 1.0,
        End::Tangent(v) => {
            matrix[(0, 0)] = 2.0 * h[0];
            matrix[(0, 1)] = h[0];
            set_right(0, 6.0 * (slope[0] - direction(v)?));
        }
        // With two or three ducks there is no second knot to run over: the batten takes a
        // constant curvature (a parabola).
        End::NotAKnot if n == 2 || (n == 3 && both_run_on) => {
            matrix[(0, 0)] = 1.0;
            matrix[(0, 1)] = -1.0;
        }
        End::NotAKnot => {
            matrix[(0, 0)] = h[1];
            matrix[(0, 1)] = -(h[0] + h[1]);
            matrix[(0, 2)] = h[0];
        }
    }
    match last {
        End::Free => matrix[(z, z)] = 1.0,
        End::Tangent(v) => {
            matrix[(z, z)] = 2.0 * h[z - 1];
            matrix[(z, z - 1)] = h[z - 1];
            set_right(z, 6.0 * (direction(v)? - slope[z - 1]));
        }
        // Two ducks and nothing else known: a straight batten.
        End::NotAKnot if n == 2 && both_run_on => matrix[(z, z)] = 1.0,
        End::NotAKnot if n == 2 || (n == 3 && both_run_on) => {
            matrix[(z, z)] = 1.0;
            matrix[(z, z - 1)] = -1.0;
        }
        End::NotAKnot => {
            matrix[(z, z)] = h[z - 2];
            matrix[(z, z - 1)] = -(h[z - 2] + h[z - 1]);
            matrix[(z, z - 2)] = h[z - 1];
        }
    }
    let solved = second_derivatives(matrix, right)?;
    let m = |i: usize| V3::new(solved[0][i], solved[1][i], solved[2][i]);
    for i in 0..n - 1 {
        spans.push(Span {
            start: knots[i],
            c: [
                ducks[i].coords,
                slope[i] - h[i] * (2.0 * m(i) + m(i + 1)) / 6.0,
                0.5 * m(i),
                (m(i + 1) - m(i)) / (6.0 * h[i]),
            ],
        });
    }
    Ok(())
}

/// The second derivatives at the ducks, axis by axis.
///
/// # Errors
/// [`SplineError::NoBatten`] for equations that are singular, or whose answer is no number.
fn second_derivatives(
    matrix: DMatrix<f64>,
    right: [DVector<f64>; 3],
) -> Result<[DVector<f64>; 3], SplineError> {
    let lu = matrix.lu();
    let mut solved = right;
    for axis in &mut solved {
        if !lu.solve_mut(axis) || !axis.iter().all(|m| m.is_finite()) {
            return Err(SplineError::NoBatten);
        }
    }
    Ok(solved)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::curve::Spline;

    /// What cannot be worked out is said, and never drawn as a straight batten: equations of
    /// which one says the same as another, and chords whose squares overflow.
    #[test]
    fn a_batten_that_cannot_be_worked_out_is_refused() {
        let right = || [DVector::from_element(2, 1.0), DVector::zeros(2), DVector::zeros(2)];
        let twice = DMatrix::from_row_slice(2, 2, &[1.0, 2.0, 1.0, 2.0]);
        assert_eq!(second_derivatives(twice, right()), Err(SplineError::NoBatten));
        let good = DMatrix::from_row_slice(2, 2, &[2.0, 0.0, 0.0, 4.0]);
        let solved = second_derivatives(good, right()).expect("two plain equations");
        assert_eq!(solved[0].as_slice(), [0.5, 0.25]);
        let far = [P3::origin(), P3::new(1e200, 0.0, 0.0), P3::new(2e200, 1e200, 0.0)];
        for end in [End::Free, End::NotAKnot] {
            assert_eq!(Spline::through(&far, &[], end, end), Err(SplineError::NoBatten));
        }
    }
}
