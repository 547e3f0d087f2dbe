//! Down the list until the money is gone.

use serde::Serialize;

use super::prospect::Score;

/// What a dollar of cost avoids at the end of the money: the loss that a house has to avoid for each to be worth it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct CutLine(f64);

impl CutLine {
    /// A cut line at so many dollars of loss avoided for a dollar of cost.
    pub const fn at(per_dollar: f64) -> Self {
        Self(per_dollar)
    }

    /// Dollars of loss avoided for a dollar of cost.
    pub const fn per_dollar(self) -> f64 {
        self.0
    }
}

impl Default for CutLine {
    /// Where no budget is given, a dollar has to avoid a dollar.
    fn default() -> Self {
        Self(1.0)
    }
}

/// How far down the list the money has come.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, schemars::JsonSchema)]
pub struct BudgetPoint {
    /// Houses paid for.
    pub houses: u64,
    /// Dollars paid.
    pub paid: f64,
    /// Dollars of loss avoided, should the shaking come.
    pub benefit: f64,
}

/// A walk down the list, best house first, that pays for one house after another until one is too dear for what is
/// left; no later house is paid for. Without a budget it pays as long as a dollar avoids a dollar.
///
/// ```
/// use retrofit_core::ranking::{BudgetWalk, Score};
/// let mut walk = BudgetWalk::new(Some(9000.0), 3);
/// assert!(walk.pays(Score { benefit: 40_000.0, cost: 5000.0, paid: 5000.0 }));
/// assert!(!walk.pays(Score { benefit: 30_000.0, cost: 5000.0, paid: 5000.0 }));
/// assert!(!walk.pays(Score { benefit: 100.0, cost: 50.0, paid: 50.0 }));
/// assert_eq!(walk.funded().houses, 1);
/// assert_eq!(walk.cut_line().per_dollar(), 8.0);
/// ```
#[derive(Clone, Debug)]
pub struct BudgetWalk {
    budget: Option<f64>,
    funded: BudgetPoint,
    all: BudgetPoint,
    cut: Option<CutLine>,
    is_over: bool,
    curve: Vec<BudgetPoint>,
    every: u64,
}

impl BudgetWalk {
    /// How many points a budget curve has at most.
    pub const MOST_POINTS: u64 = 100;

    /// A walk with so many dollars, or as long as it pays, over a list of so many houses.
    pub fn new(budget: Option<f64>, houses: u64) -> Self {
        Self {
            budget,
            funded: BudgetPoint::default(),
            all: BudgetPoint::default(),
            cut: None,
            is_over: false,
            curve: vec![BudgetPoint::default()],
            every: houses.div_ceil(Self::MOST_POINTS).max(1),
        }
    }

    /// Comes to the next house of the list; whether it is paid for.
    pub fn pays(&mut self, score: Score) -> bool {
        let after = |before: BudgetPoint| BudgetPoint {
            houses: before.houses + 1,
            paid: before.paid + score.paid,
            benefit: before.benefit + score.benefit,
        };
        self.all = after(self.all);
        if self.all.houses.is_multiple_of(self.every) {
            self.curve.push(self.all);
        }
        let would_be = after(self.funded);
        let is_worth_it = match self.budget {
            Some(budget) => would_be.paid <= budget && score.benefit > 0.0,
            None => score.per_dollar() >= CutLine::default().per_dollar(),
        };
        self.is_over |= !is_worth_it;
        if !self.is_over {
            self.funded = would_be;
            self.cut = Some(CutLine::at(score.per_dollar()));
        }
        !self.is_over
    }

    /// What was paid for.
    pub const fn funded(&self) -> BudgetPoint {
        self.funded
    }

    /// What the whole list would come to.
    pub const fn all(&self) -> BudgetPoint {
        self.all
    }

    /// What the last dollar avoided; where nothing could be paid for, what a dollar has to avoid anyway.
    pub fn cut_line(&self) -> CutLine {
        match (self.budget, self.cut) {
            // Money that reaches to the end of the list is not scarce, but it still has to avoid what it costs.
            (Some(_), Some(cut)) if self.is_over => cut,
            _ => CutLine::default(),
        }
    }

    /// Points along the whole list, evenly by houses, from nothing to all of them.
    pub fn curve(&self) -> Vec<BudgetPoint> {
        let mut curve = self.curve.clone();
        if curve.last() != Some(&self.all) {
            curve.push(self.all);
        }
        curve
    }
}
