//! Rankings: of many houses, which ones a budget should go to first, how sure that is, and what to look at next.
//!
//! A ranking is not a verdict. For a house that somebody looked at, it begins with what the checks found; for any
//! other it *infers*, from published shares where there are any and from stated assumptions where there are none, and
//! says so. What a house may lose in an earthquake is read off published curves that were made for other houses:
//! they are proxies, named as such, good for putting houses in order and not for promising anybody a sum.
//!
//! ```text
//!   Evidence ──infer──▶ Prospect ──score──▶ Score ──in order──▶ BudgetWalk ──▶ cut line, budget curve
//!      │                   └──draw──▶ Worlds ──▶ Stability             │
//!      └───────────────────────value of information ◀────────────────┘
//! ```
//!
//! 1. [`Evidence`]: what is known of one house that bears on its place in the list.
//! 2. [`RankingTables`]: the shares, curves, ratios, costs and assumptions, each with source and standing.
//! 3. [`Pricing`]: what the work costs, by the takeoff of a bare house like it or by published whole jobs.
//! 4. [`Prospect`]: the chance that there is something to strengthen, what that avoids, and what it costs.
//! 5. [`BudgetWalk`]: down the list until the money is gone; where that is, is the [`CutLine`].
//! 6. [`Prospect::value_of_learning`]: what knowing one thing more would be worth to the decision at the cut line.
//! 7. [`Worlds`]: the same list drawn again and again, every unknown in its range: how often a house stays in.
//!
//! Money that is set aside for a house counts as spent, whether or not the house turns out to need it.
//!
//! ```
//! use retrofit_core::prices::UnitPrices;
//! use retrofit_core::provisions::Library;
//! use retrofit_core::ranking::{CutLine, Evidence, Money, Pricing, Prospect, RankingTables, Unknown};
//!
//! let tables = RankingTables::shipped();
//! // A house of 1926 that nobody looked under, in the coastal climate zone of California.
//! let evidence = Evidence {
//!     year: Some(1926),
//!     climate_zone: Some("3C".parse()?),
//!     shaking: Some(0.6),
//!     replacement_value: Some(400_000.0),
//!     ..Evidence::default()
//! };
//! let provisions = Library::shipped().set(Library::DEFAULT_SET).expect("the shipped tables are in order");
//! let pricing = Pricing::by_takeoff(tables, UnitPrices::placeholder(), &provisions);
//! let prospect = Prospect::of(&evidence, tables, pricing.of(&evidence), Money::default());
//! assert!(prospect.benefit() > 0.0);
//! // Where a dollar has to avoid twelve, the house is left out; knowing that it has a crawl space might change that.
//! let cut = CutLine::at(12.0);
//! assert!(prospect.score().per_dollar() < 12.0);
//! assert!(prospect.value_of_learning(Unknown::CrawlSpace, cut) > 0.0);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod budget;
mod cost;
mod estimate;
mod evidence;
mod hazard;
mod loss;
mod prospect;
mod tables;
mod worlds;

pub use budget::{BudgetPoint, BudgetWalk, CutLine};
pub use cost::{CostFrom, CrippleWall, Extent, FloorShort, JobCost, Pricing, price_sources};
pub use estimate::Estimate;
pub use evidence::{Evidence, EvidenceGrade, Reason, Seen, ShakingFrom, Work};
pub use hazard::{HazardError, HazardGrid};
pub use loss::{Damage, FragilityCurve, LossCurve};
pub use prospect::{Money, Prospect, Score, Unknown};
pub use tables::{Assumption, Likelihoods, RankingTables, Sourced, UsedFor, YearClass};
pub use worlds::{Drawn, Places, Spectrum, Stability, Worlds};
