//! Published curves of damage, and what they come to in money: proxies for houses they were not made for.

use crate::choice::choices;

choices! {
    /// A state of damage, from the least.
    pub enum Damage: "state of damage" {
        /// Slight.
        Slight = "slight", "slight damage";
        /// Moderate.
        Moderate = "moderate", "moderate damage";
        /// Extensive.
        Extensive = "extensive", "extensive damage";
        /// Complete.
        Complete = "complete", "complete damage";
    }
}

/// How likely each state of damage, or a worse one, is at a peak ground acceleration: lognormal, with one spread.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct FragilityCurve {
    /// The acceleration, in g, at which half of all houses reach each state.
    pub medians: [f64; 4],
    /// The spread of the logarithm.
    pub beta: f64,
}

impl FragilityCurve {
    /// How likely each state, or a worse one, is at a peak ground acceleration in g.
    ///
    /// ```
    /// use retrofit_core::ranking::RankingTables;
    /// let before = RankingTables::shipped().before();
    /// // At its median, half of all houses reach a state.
    /// let [.., complete] = before.fragility.at(0.77);
    /// assert!((complete - 0.5).abs() < 1e-12);
    /// ```
    pub fn at(&self, acceleration: f64) -> [f64; 4] {
        self.medians.map(|median| {
            if acceleration > 0.0 {
                normal(libm::log(acceleration / median) / self.beta)
            } else {
                0.0
            }
        })
    }
}

/// The distribution function of the standard normal distribution.
fn normal(z: f64) -> f64 {
    0.5 * libm::erfc(-z * std::f64::consts::FRAC_1_SQRT_2)
}

/// A curve of damage with the share of the replacement value that each state costs.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LossCurve {
    /// How likely each state is.
    pub fragility: FragilityCurve,
    /// What each state costs, as a share of the replacement value.
    pub ratios: [f64; 4],
}

impl LossCurve {
    /// The loss to be expected at a peak ground acceleration in g, as a share of the replacement value.
    pub fn expected_loss(&self, acceleration: f64) -> f64 {
        // Each state adds what it costs over the one below it, as often as it or a worse one is reached.
        let mut below = 0.0;
        self.fragility
            .at(acceleration)
            .iter()
            .zip(self.ratios)
            .map(|(reached, ratio)| {
                let step = ratio - below;
                below = ratio;
                reached * step
            })
            .sum()
    }
}

#[cfg(test)]
mod tests {
    use super::super::RankingTables;
    use proptest::prelude::*;

    proptest! {
        /// More shaking never means less loss, and strengthening never means more.
        #[test]
        fn loss_rises_with_shaking_and_falls_with_strengthening(shaking in 0.01f64..4.0, more in 0.0f64..1.0) {
            let tables = RankingTables::shipped();
            let (before, after) = (tables.before(), tables.after());
            for curve in [before, after] {
                let loss = curve.expected_loss(shaking);
                prop_assert!((0.0..=1.0).contains(&loss));
                prop_assert!(curve.expected_loss(shaking + more) >= loss - 1e-15);
            }
            prop_assert!(after.expected_loss(shaking) <= before.expected_loss(shaking));
        }
    }

    #[test]
    fn without_shaking_there_is_no_loss() {
        assert_eq!(
            RankingTables::shipped().before().expected_loss(0.0).to_bits(),
            0.0f64.to_bits()
        );
    }
}
