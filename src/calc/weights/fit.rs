//! Weighted least squares over the few [`UNKNOWNS`], where some of them may
//! not be determined at all.
//!
//! By the sweep operator on the normal equations (Goodnight, A Tutorial on the
//! SWEEP Operator, The American Statistician 33(3), 1979). Rows hold zeros,
//! ones and a lever, so that forming the normal equations costs no digits that
//! count; `weights_against_numpy.py` measures it.

use super::{Row, UNKNOWNS, add, dot};

/// A pivot under this share of what it was has been used up by the others.
const USED_UP: f64 = 1e-9;

/// What readings say of the unknowns.
pub(super) struct Fit {
    /// What one kilogram more in each reading adds to the unknowns.
    pub(super) gains: Vec<Row>,
    /// Directions in which the unknowns may be shifted without any reading
    /// telling.
    pub(super) free: Vec<Row>,
}

impl Fit {
    /// Whether no free direction changes the sum `row`.
    pub(super) fn determines(&self, row: &Row) -> bool {
        is_fixed(row, &self.free)
    }
}

/// Whether no direction in `free` changes the sum `row`.
pub(super) fn is_fixed(row: &Row, free: &[Row]) -> bool {
    free.iter().all(|way| dot(row, way).abs() < USED_UP)
}

/// Fits `rows` by least squares, each weighted by the inverse square of its
/// reading's doubt.
#[allow(clippy::needless_range_loop)] // Indices are what a sweep is written in.
pub(super) fn fit(rows: &[(Row, f64)]) -> Fit {
    let weight = |doubt: f64| 1.0 / (doubt * doubt);
    let mut normal = [[0.0; UNKNOWNS]; UNKNOWNS];
    for (row, doubt) in rows {
        for i in 0..UNKNOWNS {
            add(&mut normal[i], weight(*doubt) * row[i], row);
        }
    }
    let whole: Row = std::array::from_fn(|i| normal[i][i]);
    let mut swept = [false; UNKNOWNS];
    loop {
        let share = |i: usize| normal[i][i] / whole[i];
        let mut best = None;
        for i in 0..UNKNOWNS {
            if !swept[i]
                && whole[i] > 0.0
                && share(i) > USED_UP
                && best.is_none_or(|best| share(i) > share(best))
            {
                best = Some(i);
            }
        }
        let Some(k) = best else { break };
        sweep(&mut normal, k);
        swept[k] = true;
    }

    let gains = rows.iter().map(|(row, doubt)| {
        std::array::from_fn(|i| {
            if !swept[i] {
                return 0.0;
            }
            let used = (0..UNKNOWNS).filter(|j| swept[*j]);
            used.map(|j| normal[i][j] * row[j]).sum::<f64>() * weight(*doubt)
        })
    });
    let free = (0..UNKNOWNS).filter(|way| !swept[*way]).map(|way| {
        std::array::from_fn(|i| match i {
            _ if i == way => 1.0,
            _ if swept[i] => -normal[i][way],
            _ => 0.0,
        })
    });
    Fit {
        gains: gains.collect(),
        free: free.collect(),
    }
}

fn sweep(normal: &mut [Row; UNKNOWNS], k: usize) {
    let pivot = normal[k][k];
    let mut row = normal[k];
    for value in &mut row {
        *value /= pivot;
    }
    for i in (0..UNKNOWNS).filter(|i| *i != k) {
        let by = normal[i][k];
        add(&mut normal[i], -by, &row);
        normal[i][k] = -by / pivot;
    }
    row[k] = 1.0 / pivot;
    normal[k] = row;
}
