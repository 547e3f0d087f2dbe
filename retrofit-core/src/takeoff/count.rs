//! The counting: every row is read off the layout of a remedy.

use super::anchors::{adhesive, cartridges, rod_length};
use super::quantity::{Amount, Article, Place, Price, Row};
use super::sheathing::{SheetList, level_joints, sheets};
use super::stock::Stock;
use super::{Gap, Takeoff};
use crate::house::{AnchorKind, AsBuilt, Nail, Washer};
use crate::measure::{Area, Length};
use crate::observation::Truth;
use crate::prices::{Cents, CostRange, Item, Spread, UnitPrices, rounded_share};
use crate::remedy::{
    AnchorLayout, Credit, FloorLayout, Framing, FramingWork, LineRemedy, PanelLayout, Remedy, SillWork,
};

/// Two ventilation holes in each stud bay, one at the top and one at the bottom, as the layout has them.
const HOLES_IN_A_BAY: u64 = 2;

/// Below this clear height the published prices of panel work are dearer: the account that the price table
/// names.
const LOW_CRAWL: Length = Length::feet(2);

/// Counts what a remedy takes and what it costs.
///
/// The likely cost of what the layout was designed by is that of the layout, row by row. The takeoff adds
/// what the design does not weigh: the waste of the sheets, blocking behind level joints, a low crawl space
/// and the region.
pub fn take_off(remedy: &Remedy, prices: &UnitPrices, stock: &Stock) -> Takeoff {
    let mut count = Count {
        house: &remedy.taken_as,
        prices,
        stock,
        sheets: sheets(remedy, stock),
        rows: Vec::new(),
        gaps: Vec::new(),
        notes: Vec::new(),
        adhesive: 0,
        nails: Vec::new(),
    };
    for line in &remedy.lines {
        count.line(line);
    }
    count.shared();
    count.finish()
}

struct Count<'a> {
    house: &'a AsBuilt,
    prices: &'a UnitPrices,
    stock: &'a Stock,
    sheets: Vec<SheetList>,
    rows: Vec<Row>,
    gaps: Vec<Gap>,
    notes: Vec<&'static str>,
    /// Adhesive for the holes counted so far, in cubic nanometers.
    adhesive: i128,
    nails: Vec<(Nail, u64)>,
}

impl Count<'_> {
    fn line(&mut self, line: &LineRemedy) {
        let at = line.wall_line;
        for work in &line.sill {
            self.sill(at, *work);
        }
        if let Some(work) = line.anchors.work() {
            self.anchors(line, work);
        }
        if let Some(work) = line.panels.work() {
            self.panels(at, work);
        }
        for work in &line.framing {
            self.framing(at, *work);
        }
        if let Some(work) = line.floor.work() {
            self.floor(at, work);
        }
        let declined = [
            ("anchors", line.anchors.declined()),
            ("panels", line.panels.declined()),
            ("floor connection", line.floor.declined()),
        ];
        let gaps = declined.into_iter().filter(|(_, declined)| declined.is_some());
        self.gaps
            .extend(gaps.map(|(part, _)| Gap { wall_line: at, part }));
    }

    /// Adds to the row of an article on a wall line, or begins one.
    fn add(
        &mut self,
        wall_line: Option<usize>,
        article: Article,
        amount: Amount,
        place: Option<Place>,
        because: &'static str,
        price: Price,
    ) {
        let hours = match price {
            // Nobody works on what is thrown away.
            Price::Of(_) if !matches!(article, Article::SheetWaste { .. }) => {
                times(self.prices.hours(article.item()), amount)
            }
            _ => Spread::default(),
        };
        let held = self
            .rows
            .iter_mut()
            .find(|row| row.wall_line == wall_line && row.article == article);
        match held {
            Some(row) => {
                row.amount = row.amount.plus(amount);
                row.places.extend(place);
                row.hours = row.hours.plus(hours);
                if let (Price::Of(held), Price::Of(more)) = (&mut row.price, price) {
                    *held = held.plus(more);
                }
            }
            None => self.rows.push(Row {
                wall_line,
                article,
                amount,
                places: place.into_iter().collect(),
                because,
                price,
                hours,
            }),
        }
    }

    /// Adds pieces, a length or an area at the price of the article's item.
    fn priced(
        &mut self,
        wall_line: usize,
        article: Article,
        amount: Amount,
        place: Place,
        because: &'static str,
    ) {
        let price = Price::Of(cost(self.prices.range(article.item()), amount));
        self.add(Some(wall_line), article, amount, Some(place), because, price);
    }

    fn sill(&mut self, at: usize, work: SillWork) {
        let article = Article::SillReplacement {
            thickness: work.thickness,
        };
        let length = work.to.saturating_sub(work.from);
        let place = Place::Along(work.from, work.to);
        let because = "The piece is unsound or not as a new one has to be.";
        self.priced(at, article, Amount::Run(length), place, because);
    }

    /// The thickness of the sill at a station, of a new piece where it is replaced.
    fn sill_thickness(&self, line: &LineRemedy, station: Length) -> Option<Length> {
        let wall = self.house.wall_lines.get(line.wall_line)?;
        let length = wall.length.value().copied();
        let mut pieces = wall.sill.value()?.iter().enumerate();
        let (place, piece) = pieces.find(|(_, piece)| {
            let span = piece.span(length);
            span.from <= station && span.to.is_none_or(|to| station <= to)
        })?;
        let replaced = line.sill.iter().find(|work| work.piece == place);
        replaced
            .map(|work| work.thickness)
            .or(piece.thickness.value().copied())
    }

    fn anchors(&mut self, line: &LineRemedy, work: &AnchorLayout) {
        let at = line.wall_line;
        for anchor in &work.added {
            let sill = self.sill_thickness(line, anchor.at);
            let article = Article::Anchor {
                kind: anchor.kind,
                diameter: anchor.diameter,
                rod: rod_length(anchor, sill, self.stock),
                tight_drilling: anchor.tight_drilling,
            };
            let mut range = self.prices.range(article.item());
            if anchor.tight_drilling {
                range = range.under(self.prices.spread(Item::TightDrilling));
            }
            let because = "The provisions ask for an anchor here that is not there.";
            let place = Some(Place::At(anchor.at));
            let one = Amount::Pieces(1);
            self.add(Some(at), article, one, place, because, Price::Of(range));
            if let Some(washer @ (Washer::Cut | Washer::Plate { .. })) = anchor.washer {
                let because = "It goes under the nut of a new anchor; its price lies in that of the anchor.";
                let price = Price::Within(article.item());
                self.add(Some(at), Article::Washer(washer), one, place, because, price);
            }
            if anchor.kind == AnchorKind::Adhesive {
                match adhesive(anchor, sill, self.stock) {
                    Some(volume) => self.adhesive = self.adhesive.saturating_add(volume),
                    None => self.note(
                        "Adhesive is counted only for anchors whose diameter, embedment and sill thickness are \
                         known; the others take more, by the maker's instructions.",
                    ),
                }
            }
        }
        for existing in &work.existing {
            let Credit::Mended { washer, tighten } = existing.credit else {
                continue;
            };
            for station in &existing.stations {
                if let Some(washer) = washer {
                    let article = Article::WasherUnderOldNut(washer);
                    let because = "With it an anchor that is there counts.";
                    self.priced(at, article, Amount::Pieces(1), Place::At(*station), because);
                }
                if tighten {
                    let because = "Once it is tight an anchor that is there counts.";
                    let (article, place) = (Article::NutTightened, Place::At(*station));
                    self.priced(at, article, Amount::Pieces(1), place, because);
                }
            }
        }
    }

    fn panels(&mut self, at: usize, work: &PanelLayout) {
        let first = self.rows.len();
        for (number, panel) in work.added.iter().enumerate() {
            let place = Place::Along(panel.from, panel.to);
            let because = "It braces the cripple wall.";
            self.sheathing(at, work, number);
            self.priced(at, Article::PanelStart, Amount::Pieces(1), place, because);
            if panel.sill_blocks > 0 {
                let blocks = u64::from(panel.sill_blocks);
                let because = "The sill is wider than the studs, so the panel is nailed to blocks on it.";
                self.priced(at, Article::SillBlock, Amount::Pieces(blocks), place, because);
                let nails = work
                    .make
                    .nails_per_sill_block
                    .map(|each| blocks * u64::from(each));
                let because = if nails.is_some() {
                    "They hold the blocks; their price lies in that of the blocks."
                } else {
                    "The provisions, as far as they were seen, do not say how many nails hold a block."
                };
                self.add(
                    Some(at),
                    Article::SillBlockNails,
                    nails.map_or(Amount::Unknown, Amount::Pieces),
                    Some(place),
                    because,
                    Price::Within(Item::SillBlock),
                );
            }
            if let Some(diameter) = work.make.vent_holes {
                let bays = u64::try_from(panel.studs.len().saturating_sub(1)).unwrap_or(0);
                let holes = Amount::Pieces(bays * HOLES_IN_A_BAY);
                let because = "At the top and bottom of each stud bay that the panel closes.";
                self.priced(at, Article::VentilationHole(diameter), holes, place, because);
            }
            self.nails(at, work, number);
        }
        self.low_crawl(at, first);
        self.taken_off(at, work);
        self.drilled(at, work);
        let openings = self
            .house
            .wall_lines
            .get(at)
            .and_then(|wall| wall.openings.value());
        let vents: Vec<(Place, bool)> = work
            .moved_vents
            .iter()
            .filter_map(|vent| {
                let opening = openings?.get(vent.opening)?;
                Some((Place::Along(opening.from, opening.to), vent.to.is_some()))
            })
            .collect();
        for (place, has_new_place) in vents {
            let because = if has_new_place {
                "A new panel covers it."
            } else {
                "A new panel covers it, and no open stud bay of this wall line is left: find it a place elsewhere."
            };
            self.priced(at, Article::VentMove, Amount::Pieces(1), place, because);
        }
    }

    /// Sheathing by the stud bay, as the layout prices it, so that both come to the same cent.
    fn sheathing(&mut self, at: usize, work: &PanelLayout, number: usize) {
        let Some(panel) = work.added.get(number) else {
            return;
        };
        let article = Article::Sheathing {
            sheathing: work.make.sheathing,
            thickness: work.make.thickness,
        };
        let range = self.prices.range(article.item());
        let bays = panel.studs.windows(2).filter_map(|pair| match pair {
            [from, to] => Some(Amount::Surface(to.saturating_sub(*from).by(panel.height))),
            _ => None,
        });
        let bays: Vec<Amount> = bays.collect();
        let price = bays
            .iter()
            .fold(CostRange::ZERO, |sum, bay| sum.plus(cost(range, *bay)));
        let amount = bays.into_iter().fold(Amount::Surface(Area::ZERO), Amount::plus);
        let place = Some(Place::Along(panel.from, panel.to));
        let because = "It braces the cripple wall.";
        self.add(Some(at), article, amount, place, because, Price::Of(price));
        let pieces: Vec<_> = self.pieces(at, number).collect();
        let joints = level_joints(&pieces);
        if joints > Length::ZERO {
            let because = "A level joint between two sheets has to lie over blocking.";
            let place = Place::Along(panel.from, panel.to);
            self.priced(at, Article::JointBlocking, Amount::Run(joints), place, because);
        }
    }

    fn pieces(&self, at: usize, number: usize) -> impl Iterator<Item = super::PanelPiece> + '_ {
        let pieces = self.sheets.iter().flat_map(|list| &list.pieces);
        pieces
            .filter(move |piece| piece.wall_line == at && piece.panel == number)
            .copied()
    }

    fn nails(&mut self, at: usize, work: &PanelLayout, number: usize) {
        let Some(panel) = work.added.get(number) else {
            return;
        };
        let nails: Option<u64> = self.pieces(at, number).map(|piece| piece.nails(&work.make)).sum();
        if let (Some(count), Some(nail)) = (nails, work.make.nail) {
            match self.nails.iter_mut().find(|(held, _)| *held == nail) {
                Some((_, held)) => *held = held.saturating_add(count),
                None => self.nails.push((nail, count)),
            }
        }
        let because = if nails.is_some() {
            "Along every edge of every piece, both edges of a joint, and along the studs between; their price lies \
             in that of the sheathing."
        } else {
            "The provisions, as far as they were seen, name no spacing of nails, so that none are counted."
        };
        self.add(
            Some(at),
            Article::PanelNails(work.make.nail),
            nails.map_or(Amount::Unknown, Amount::Pieces),
            Some(Place::Along(panel.from, panel.to)),
            because,
            Price::Within(Item::Sheathing),
        );
    }

    /// What the low crawl space adds to the panel work of the rows from `first` on.
    fn low_crawl(&mut self, at: usize, first: usize) {
        let clear = &self.house.inspection.clear_height;
        match clear.at_least(LOW_CRAWL) {
            Truth::True => return,
            Truth::Maybe => {
                self.note(
                    "The clear height of the crawl space was not recorded; under 2 ft, panel work costs more than \
                     is counted here.",
                );
                return;
            }
            Truth::False => {}
        }
        let of_panels = self.rows.iter().skip(first);
        let base = of_panels.fold(CostRange::ZERO, |sum, row| sum.plus(row.price.cost()));
        let dearer = base.under(self.prices.spread(Item::LowCrawl));
        let more = |dearer: Cents, base: Cents| Cents(dearer.0.saturating_sub(base.0));
        let added = CostRange {
            low: more(dearer.low, base.low),
            likely: more(dearer.likely, base.likely),
            high: more(dearer.high, base.high),
        };
        if base != CostRange::ZERO {
            let because =
                "The clear height is under 2 ft somewhere; panel work is priced as if it were so all along.";
            let one = Amount::Pieces(1);
            self.add(Some(at), Article::LowCrawl, one, None, because, Price::Of(added));
        }
    }

    fn taken_off(&mut self, at: usize, work: &PanelLayout) {
        let Some(wall) = self.house.wall_lines.get(at) else {
            return;
        };
        let records = wall.panels.listed();
        for existing in work.existing.iter().filter(|panel| panel.is_removed) {
            let Some((from, to)) = records.get(existing.item).and_then(crate::house::Panel::stations) else {
                continue;
            };
            let mut stretches = wall.cripple_wall.listed().iter();
            let stretch = stretches.find(|stretch| {
                let span = stretch.span(wall.length.value().copied());
                span.from <= from && span.to.is_none_or(|to| from <= to)
            });
            let height = stretch.and_then(|stretch| stretch.height.value().copied());
            let area = to.saturating_sub(from).by(height.unwrap_or(Length::ZERO));
            let because = "It does not count, and a new panel takes its place.";
            let (article, place) = (Article::PanelRemoval, Place::Along(from, to));
            self.priced(at, article, Amount::Surface(area), place, because);
        }
    }

    /// Ventilation holes through old panels that are credited but close their bays without.
    fn drilled(&mut self, at: usize, work: &PanelLayout) {
        let wall = self.house.wall_lines.get(at);
        let records = wall.and_then(|wall| wall.panels.value());
        for existing in &work.existing {
            let stations = records
                .and_then(|records| records.get(existing.item)?.stations())
                .map(|(from, to)| Place::Along(from, to));
            if let (Some(holes), Some(place)) = (existing.gets_holes, stations) {
                let (article, amount) = (
                    Article::VentilationHole(holes.diameter),
                    Amount::Pieces(holes.count.into()),
                );
                let because = "An old panel closes its stud bays without ventilation.";
                self.priced(at, article, amount, place, because);
            }
        }
    }

    fn framing(&mut self, at: usize, work: FramingWork) {
        let length = Amount::Run(work.to.saturating_sub(work.from));
        let (article, amount, because) = match work.what {
            Framing::NailTopPlates => (
                Article::TopPlateNailing,
                length,
                "The two top plates are loose; no source seen says how many nails.",
            ),
            Framing::AddTopPlate => (
                Article::TopPlate,
                length,
                "The top plate is not what the provisions ask for.",
            ),
            Framing::TieSplices => (
                Article::PlateStrap,
                Amount::AtLeast(1),
                "Breaks in the top plate are not tied; how many there are was not recorded.",
            ),
            Framing::SolidBlocking => (
                Article::SolidBlocking,
                length,
                "The studs are too short to be braced by a panel.",
            ),
        };
        self.priced(at, article, amount, Place::Along(work.from, work.to), because);
    }

    fn floor(&mut self, at: usize, work: &FloorLayout) {
        if let Some(rim) = &work.rim {
            for block in &rim.blocks {
                let because = "Joist bays are open over the wall.";
                self.priced(
                    at,
                    Article::JoistBlock,
                    Amount::Pieces(1),
                    Place::At(*block),
                    because,
                );
            }
            let length = self
                .house
                .wall_lines
                .get(at)
                .and_then(|wall| wall.length.value().copied());
            if let (true, Some(length)) = (rim.blocks.is_empty(), length) {
                let because = "Nothing closes the floor over the wall.";
                let place = Place::Along(Length::ZERO, length);
                self.priced(at, Article::EndJoist, Amount::Run(length), place, because);
            }
        }
        for clip in &work.clips {
            let because =
                "The floor is not tied to the wall; each clip takes the nails that its maker names.";
            self.priced(
                at,
                Article::FramingClip,
                Amount::Pieces(1),
                Place::At(*clip),
                because,
            );
        }
    }

    fn note(&mut self, note: &'static str) {
        if !self.notes.contains(&note) {
            self.notes.push(note);
        }
    }

    /// What is bought for the house as a whole: sheets, their waste, cartridges, nails by the pound.
    fn shared(&mut self) {
        let lists = std::mem::take(&mut self.sheets);
        for list in &lists {
            let (sheathing, thickness) = (list.sheathing, list.thickness);
            for (size, count) in list.to_buy() {
                let count = Amount::Pieces(u64::try_from(count).unwrap_or(u64::MAX));
                let article = Article::Sheet {
                    sheathing,
                    thickness,
                    size,
                };
                let because =
                    "Whole sheets for all pieces; their price lies in those of sheathing and waste.";
                self.add(
                    None,
                    article,
                    count,
                    None,
                    because,
                    Price::Within(Item::Sheathing),
                );
            }
            let material = self.prices.spread(Item::Sheathing);
            let square_foot = CostRange {
                low: Cents(material.low),
                likely: Cents(material.likely),
                high: Cents(material.high),
            };
            let waste = Amount::Surface(list.cutting.waste());
            let article = Article::SheetWaste { sheathing, thickness };
            let because = "Sheets are bought whole; the material of what is not used is paid for too.";
            self.add(
                None,
                article,
                waste,
                None,
                because,
                Price::Of(cost(square_foot, waste)),
            );
            if !list.cutting.too_large.is_empty() {
                self.note(
                    "Some pieces are larger than any sheet between their studs: add studs or blocking there. They \
                     are in no sheet counted here.",
                );
            }
        }
        self.sheets = lists;
        let cartridges = cartridges(self.adhesive, self.stock);
        if cartridges > 0 {
            let article = Article::Adhesive {
                milliliters: self.stock.cartridge().value,
            };
            let because = "They fill the holes around the rods, through the sill too, with an allowance for loss; \
                           their price lies in that of the anchors.";
            let count = Amount::Pieces(cartridges);
            self.add(
                None,
                article,
                count,
                None,
                because,
                Price::Within(Item::AdhesiveAnchor),
            );
        }
        let lost = u64::from(10_000 + self.stock.nail_allowance().value.hundredths());
        for (nail, count) in std::mem::take(&mut self.nails) {
            let pounds = self.stock.per_pound(nail).map(u64::from);
            let (amount, because) = pounds.map_or(
                (
                    Amount::Unknown,
                    "No table of how many of these weigh a pound was seen; order them by the piece.",
                ),
                |per_pound| {
                    let pounds = count.saturating_mul(lost).div_ceil(per_pound.saturating_mul(10_000));
                    (
                        Amount::Pounds(pounds),
                        "Whole pounds, with an allowance for loss; their price lies in that of the sheathing.",
                    )
                },
            );
            let article = Article::NailsByThePound(nail);
            self.add(
                None,
                article,
                amount,
                None,
                because,
                Price::Within(Item::Sheathing),
            );
        }
    }

    fn finish(mut self) -> Takeoff {
        let region = self.prices.spread(Item::RegionalMultiplier);
        let mut used: Vec<Item> = vec![Item::LaborHour, Item::RegionalMultiplier];
        for row in &mut self.rows {
            let Price::Of(cost) = &mut row.price else { continue };
            *cost = cost.under(region);
            used.push(row.article.item());
            if let Article::Anchor {
                tight_drilling: true, ..
            } = row.article
            {
                used.push(Item::TightDrilling);
            }
        }
        used.sort_unstable_by_key(|item| crate::choice::Choice::index(*item));
        used.dedup();
        let priced = used.iter().filter_map(|item| self.prices.row(*item));
        let mut price_years: Vec<u16> = priced.map(|row| row.price_year).collect();
        price_years.sort_unstable();
        price_years.dedup();
        if price_years.len() > 1 {
            self.note(
                "The prices are of different years and are added as they stand: no index brings them to one year.",
            );
        }
        let placeholders: Vec<Item> = used
            .into_iter()
            .filter(|item| self.prices.is_placeholder(*item))
            .collect();
        if !placeholders.is_empty() {
            self.note(
                "Some prices have no source: they stand in until prices of your own take their place, and so does \
                 every total that rests on them.",
            );
        }
        Takeoff {
            rows: self.rows,
            sheets: self.sheets,
            gaps: self.gaps,
            notes: self.notes,
            price_years,
            placeholders,
        }
    }
}

/// The cost of an amount at a price for a piece, a foot, a square foot or a pound, each end rounded to the
/// cent.
fn cost(price: CostRange, amount: Amount) -> CostRange {
    let (part, unit) = parts(amount);
    let end = |cents: Cents| cents.share(part, unit);
    CostRange {
        low: end(price.low),
        likely: end(price.likely),
        high: end(price.high),
    }
}

/// The hours of an amount, in hundredths, rounded.
fn times(hours: Spread, amount: Amount) -> Spread {
    let (part, unit) = parts(amount);
    let end = |hours: i64| rounded_share(hours, part, unit);
    Spread {
        low: end(hours.low),
        likely: end(hours.likely),
        high: end(hours.high),
    }
}

/// An amount as a fraction of the unit it is priced by.
fn parts(amount: Amount) -> (i128, i128) {
    match amount {
        Amount::Pieces(count) | Amount::AtLeast(count) | Amount::Pounds(count) => (i128::from(count), 1),
        Amount::Run(length) => (
            i128::from(length.nanometers()),
            i128::from(Length::feet(1).nanometers()),
        ),
        Amount::Surface(area) => (area.square_nanometers(), Area::square_feet(1).square_nanometers()),
        Amount::Unknown => (0, 1),
    }
}
