//! Weighted least squares of a few unknowns, some of them held near nought.

/// Unknowns: level, change, rep slope, untold reserve.
pub const COEFFICIENTS: usize = 4;
/// The place of the change among them.
const CHANGE: usize = 1;

/// The normal equations.
pub struct Normal {
    matrix: [[f64; COEFFICIENTS]; COEFFICIENTS],
    right: [f64; COEFFICIENTS],
}

impl Normal {
    /// With so strong a pull of each unknown to nought: the variance of a value by that of the
    /// unknown.
    pub fn new(held: [f64; COEFFICIENTS]) -> Self {
        let mut matrix = [[0.0; COEFFICIENTS]; COEFFICIENTS];
        for (k, (row, held)) in matrix.iter_mut().zip(held).enumerate() {
            if let Some(cell) = row.get_mut(k) {
                *cell = held;
            }
        }
        Self {
            matrix,
            right: [0.0; COEFFICIENTS],
        }
    }

    /// Takes in one value.
    pub fn add(&mut self, row: &[f64; COEFFICIENTS], value: f64, weight: f64) {
        let lines = self.matrix.iter_mut().zip(&mut self.right).zip(row);
        for ((line, right), x) in lines {
            for (cell, y) in line.iter_mut().zip(row) {
                *cell += weight * x * y;
            }
            *right += weight * x * value;
        }
    }

    /// The unknowns, and the variance of the change in units of that of a value; none where the
    /// values do not settle them.
    pub fn solve(&self) -> Option<([f64; COEFFICIENTS], f64)> {
        let coefficients = eliminate(self.matrix, self.right)?;
        let mut unit = [0.0; COEFFICIENTS];
        unit[CHANGE] = 1.0;
        let variance = eliminate(self.matrix, unit)?[CHANGE];
        (variance > 0.0).then_some((coefficients, variance))
    }
}

/// Gauss's elimination; the matrix is symmetric and positive, so that no rows change places.
fn eliminate(
    mut matrix: [[f64; COEFFICIENTS]; COEFFICIENTS],
    mut right: [f64; COEFFICIENTS],
) -> Option<[f64; COEFFICIENTS]> {
    for pivot in 0..COEFFICIENTS {
        let (line, value) = (matrix[pivot], right[pivot]);
        if line[pivot].abs() < 1e-15 {
            return None;
        }
        for row in (0..COEFFICIENTS).filter(|row| *row != pivot) {
            let times = matrix[row][pivot] / line[pivot];
            for (cell, above) in matrix[row].iter_mut().zip(line) {
                *cell -= times * above;
            }
            right[row] -= times * value;
        }
    }
    for (row, value) in right.iter_mut().enumerate() {
        *value /= matrix[row][row];
    }
    Some(right)
}
