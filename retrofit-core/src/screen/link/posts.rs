//! Interior posts and their pads, under the weight they carry.

use typenum::{N2, P1, P2, Z0};

use super::{At, Ledger, Link, LinkKind, State};
use crate::house::House;
use crate::provisions::Standing;
use crate::screen::asce7::Combination;
use crate::screen::input::{Input, Pick, UnknownKind, What};
use crate::screen::method::Method;
use crate::screen::nds::{Duration, LumberGrade, Pieces, Post, Wood};
use crate::screen::standard::Equation;
use crate::screen::unit::{INCH, SQUARE_FOOT, Unit};

/// A post of which size, height and load are on record.
#[derive(Clone, Debug)]
pub(in crate::screen) struct PostModel {
    width: Option<Input<Z0, P1>>,
    height: Option<Input<Z0, P1>>,
    pad: Option<Input<Z0, P1>>,
    area: Input<Z0, P2>,
    wood: Pick<Wood>,
    bearing: Input<P1, N2>,
}

impl PostModel {
    /// The posts of a house of which the carried area is on record; the others are not computed.
    pub(in crate::screen) fn of(house: &House, bearing: &Input<P1, N2>, wood: Pick<Wood>) -> Vec<Self> {
        let posts = house.posts.listed().iter().enumerate();
        posts
            .filter_map(|(item, post)| {
                let at = |field: &str| format!("posts[{item}].{field}");
                let size = |symbol, words| What {
                    symbol,
                    words,
                    unit: INCH,
                    kind: UnknownKind::Posts,
                };
                let area = What {
                    symbol: "A_post",
                    words: "floor area that the post carries",
                    unit: SQUARE_FOOT,
                    kind: UnknownKind::Posts,
                };
                Some(Self {
                    width: size("d", "least side of the post").known(&post.width, || at("width")),
                    height: size("l", "height of the post").known(&post.height, || at("height")),
                    pad: size("B", "least side of the pad").known(&post.pad_width, || at("pad_width")),
                    area: area.known(&post.carried_area, || at("carried_area"))?,
                    wood,
                    bearing: bearing.clone(),
                })
            })
            .collect()
    }
}

const LOAD: Equation = Equation {
    symbol: "P",
    words: "load of the post: dead and live, or dead with the earthquake, whichever is more",
    unit: Unit::Pound,
    section: "2.4.5",
    standing: Standing::Memory,
};
const SERVICE: Equation = Equation {
    symbol: "P_s",
    words: "load that the post puts on its pad, at the level by which soil is judged",
    unit: Unit::Pound,
    section: "2.4.1, 2.4.5",
    standing: Standing::Memory,
};
const LEFT: Equation = Equation {
    symbol: "c_D",
    words: "share of the weight that is left on the post when the ground drops",
    unit: Unit::Plain,
    section: "2.4.5",
    standing: Standing::Memory,
};

/// The links of the posts, worst post first. `at` may be at any wall line: posts stand apart from them.
pub(in crate::screen) fn posts<G: Ledger>(
    at: &At<'_, G>,
    models: &[PostModel],
    has_posts: bool,
) -> [Link<G::Number>; 3] {
    let missing = || {
        if has_posts {
            State::NotDetermined("size, height and carried area of the posts are not on record".into())
        } else {
            State::NotApplicable("no post is on record")
        }
    };
    let (mut column, mut pad) = (missing(), missing());
    let gravity = at
        .by
        .asce7
        .coefficients(at.method, Combination::Gravity, at.demands.sds);
    let with_live = at
        .by
        .asce7
        .coefficients(at.method, Combination::GravityAndLive, at.demands.sds);
    let least = at
        .by
        .asce7
        .coefficients(at.method, Combination::Uplift, at.demands.sds);
    let uplift = match least {
        Ok(least) => {
            let left = least.dead.by(&LEFT, &at.by.asce7.edition);
            if left.value() > 0.0 {
                State::NotApplicable("weight stays on the posts, so that nothing lifts them")
            } else {
                State::NotDetermined("the vertical effect outweighs the load of the posts".into())
            }
        }
        Err(error) => State::NotDetermined(error.into()),
    };
    let soil_factors = at.allowable_factors(Combination::Gravity);
    if let (Ok(gravity), Ok(with_live), Ok(on_soil)) = (gravity, with_live, soil_factors) {
        for model in models {
            let area = model.area.get(at.ledger, at.case);
            let unit = at.demands.weights.first_floor_loaded;
            let live = at.by.loads.live.given(at.ledger, "L", "live load of a floor");
            let (weight, live) = (unit * area, live * area);
            let service = (weight + live)
                .max(on_soil.dead * weight)
                .by(&SERVICE, &at.by.asce7.edition);
            let load = match at.method {
                Method::Asd => (weight + live).max(with_live.dead * weight + 0.75 * live),
                Method::Lrfd => (1.2 * weight + 1.6 * live).max(with_live.dead * weight + live),
            };
            let load = load.max(gravity.dead * weight).by(&LOAD, &at.by.asce7.edition);
            if let (Some(width), Some(height)) = (&model.width, &model.height) {
                let width = width.get(at.ledger, at.case);
                let post = Post {
                    wood: model.wood.get(at.ledger, at.case),
                    grade: LumberGrade::No2,
                    depth: width,
                    width,
                    effective_length: height.get(at.ledger, at.case),
                    pieces: Pieces::Solid,
                };
                let state = match at.by.nds.post(at.ledger, &post, at.method, Duration::Occupancy) {
                    Ok(capacity) => {
                        State::Computed(at.computed(load, capacity, Unit::Pound, "the post in compression"))
                    }
                    Err(error) => State::NotDetermined(error.into()),
                };
                column = worse(column, state);
            }
            if let Some(side) = &model.pad {
                let side = side.get(at.ledger, at.case);
                let bearing = model.bearing.get(at.ledger, at.case);
                let capacity = bearing * (side * side);
                let state = State::Computed(at.computed(
                    service,
                    capacity,
                    Unit::Pound,
                    "the presumptive pressure of the soil",
                ));
                pad = worse(pad, state);
            }
        }
    }
    [
        (LinkKind::Posts, column),
        (LinkKind::Pads, pad),
        (LinkKind::PostUplift, uplift),
    ]
    .map(|(kind, state)| Link { kind, state })
}

/// The worse of two.
fn worse<N: crate::screen::number::Number>(a: State<N>, b: State<N>) -> State<N> {
    match (&a, &b) {
        (State::Computed(one), State::Computed(other)) if one.ratio.value() >= other.ratio.value() => a,
        (State::Computed(_), State::NotDetermined(_)) => a,
        _ => b,
    }
}
