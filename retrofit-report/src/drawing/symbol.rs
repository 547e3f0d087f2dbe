//! The symbols of the drawings: drawn from one description on the drawing and in its key.
//!
//! What is new is heavy and filled or hatched; what is there is thin and hollow; what goes is dashed and
//! crossed out. So a black-and-white copy says the same.

use retrofit_core::measure::Length;

use retrofit_core::house::OpeningKind;

use super::sheet::{Extent, Hatch, Item, Layer, Point, Shape, halfway};

/// A symbol within four corners.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Symbol {
    /// What it stands for.
    pub kind: Kind,
    /// Whether it is seen from above or from inside.
    pub view: View,
    /// Its corners: where it begins and ends at its foot (in plan: at the outside), then where it ends and
    /// begins at its top (in plan: at the inside).
    pub corners: [Point; 4],
}

/// From where something is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum View {
    /// From above.
    Plan,
    /// From inside the crawl space, facing the wall.
    Elevation,
}

/// What a symbol stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// A new anchor with a rod.
    NewAnchor,
    /// A new plate on the side of sill and foundation.
    NewSidePlate,
    /// An existing anchor that the layout relies on, or that was not judged because nothing has to be added.
    ExistingAnchor,
    /// An existing anchor that counts once it is mended.
    MendedAnchor,
    /// An existing anchor that does not count.
    UncountedAnchor,
    /// A new braced panel.
    NewPanel,
    /// An existing panel.
    ExistingPanel,
    /// An existing panel that does not count and stays.
    UncountedPanel,
    /// An existing panel that is taken off.
    RemovedPanel,
    /// A vent that stays where it is.
    Vent,
    /// The new place of a vent.
    NewVent,
    /// The place from which a vent goes.
    RemovedVent,
    /// A door or hatch.
    AccessDoor,
    /// A pipe, duct or cable.
    Pipe,
    /// Something that blocks the wall.
    Blocked,
    /// A new framing clip.
    NewClip,
    /// A new block between joists.
    NewJoistBlock,
    /// A new end joist.
    NewEndJoist,
    /// A sill piece to be replaced.
    NewSill,
    /// An interior post.
    Post,
    /// The way the joists run.
    Joists,
    /// The way the joists were taken to run, for want of an observation.
    JoistsTaken,
}

impl Kind {
    /// An opening, or the place from which a vent goes.
    pub(super) const fn of_opening(opening: OpeningKind, is_moved: bool) -> Self {
        match opening {
            OpeningKind::Vent if is_moved => Self::RemovedVent,
            OpeningKind::Vent => Self::Vent,
            OpeningKind::Access => Self::AccessDoor,
            OpeningKind::Pipe => Self::Pipe,
            OpeningKind::Blocked => Self::Blocked,
        }
    }

    /// What the key says of it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::NewAnchor => "New anchor",
            Self::NewSidePlate => "New side plate",
            Self::ExistingAnchor => "Existing anchor",
            Self::MendedAnchor => "Existing anchor, to be mended",
            Self::UncountedAnchor => "Existing anchor, not counted",
            Self::NewPanel => "New braced panel",
            Self::ExistingPanel => "Existing panel",
            Self::UncountedPanel => "Existing panel, not counted",
            Self::RemovedPanel => "Existing panel, to come off",
            Self::Vent => "Existing vent",
            Self::NewVent => "Vent, new place",
            Self::RemovedVent => "Vent, to be closed here",
            Self::AccessDoor => "Access door or hatch",
            Self::Pipe => "Pipe or duct",
            Self::Blocked => "Wall blocked",
            Self::NewClip => "New framing clip",
            Self::NewJoistBlock => "New block between joists",
            Self::NewEndJoist => "New end joist",
            Self::NewSill => "New sill piece",
            Self::Post => "Existing interior post",
            Self::Joists => "Joists run this way",
            Self::JoistsTaken => "Joists taken to run this way, to be verified",
        }
    }

    /// The layer of its outline.
    const fn layer(self) -> Layer {
        match self {
            Self::NewAnchor
            | Self::NewSidePlate
            | Self::NewPanel
            | Self::NewVent
            | Self::NewClip
            | Self::NewJoistBlock
            | Self::NewEndJoist
            | Self::NewSill => Layer::New,
            Self::RemovedPanel | Self::RemovedVent => Layer::Removed,
            Self::JoistsTaken => Layer::Hidden,
            _ => Layer::Existing,
        }
    }
}

impl Symbol {
    /// A symbol in an upright rectangle.
    pub const fn within(kind: Kind, view: View, extent: Extent) -> Self {
        Self {
            kind,
            view,
            corners: extent.corners(),
        }
    }

    /// The rectangle around it.
    pub fn extent(&self) -> Extent {
        let [a, b, c, d] = self.corners;
        Extent::between(a, c).with(Extent::between(b, d))
    }

    /// A place in it by eighths from its beginning and from its foot.
    fn place(&self, along: i64, up: i64) -> Point {
        let [a, b, c, d] = self.corners;
        let at = |from: Point, to: Point, eighths: i64| {
            let step = |from: Length, to: Length| {
                let way = to.saturating_sub(from).nanometers() / 8;
                from.saturating_add(Length::from_nanometers(way.saturating_mul(eighths)))
            };
            if eighths == 8 {
                to
            } else {
                Point::new(step(from.x, to.x), step(from.y, to.y))
            }
        };
        at(at(a, b, along), at(d, c, along), up)
    }

    fn line(&self, layer: Layer, from: (i64, i64), to: (i64, i64)) -> Item {
        Item {
            layer,
            shape: Shape::Line(self.place(from.0, from.1), self.place(to.0, to.1)),
        }
    }

    fn outline(&self) -> Item {
        Item {
            layer: self.kind.layer(),
            shape: Shape::Polyline {
                points: self.corners.to_vec(),
                is_closed: true,
            },
        }
    }

    fn solid(&self, corners: &[(i64, i64)]) -> Item {
        Item {
            layer: self.kind.layer(),
            shape: Shape::Solid(
                corners
                    .iter()
                    .map(|(along, up)| self.place(*along, *up))
                    .collect(),
            ),
        }
    }

    fn crossed_out(&self) -> [Item; 3] {
        let layer = self.kind.layer();
        [
            self.outline(),
            self.line(layer, (0, 0), (8, 8)),
            self.line(layer, (0, 8), (8, 0)),
        ]
    }

    fn hatched(&self, rises: bool, parts: i64) -> Item {
        let within = self.extent();
        let least = within.width().min(within.height()).nanometers();
        Item {
            layer: Layer::Hatch,
            shape: Shape::Hatch(Hatch {
                within,
                spacing: Length::from_nanometers((least / parts).max(1)),
                rises,
                tint: None,
            }),
        }
    }

    /// What it is drawn with.
    pub fn strokes(&self) -> Vec<Item> {
        let layer = self.kind.layer();
        match self.kind {
            Kind::NewAnchor | Kind::ExistingAnchor | Kind::MendedAnchor | Kind::UncountedAnchor => {
                self.anchor()
            }
            Kind::NewSidePlate => vec![self.solid(&[(0, 0), (8, 0), (8, 8), (0, 8)])],
            Kind::NewPanel if self.view == View::Plan => vec![self.solid(&[(0, 0), (8, 0), (8, 8), (0, 8)])],
            Kind::NewPanel => vec![self.hatched(true, 6), self.outline()],
            Kind::ExistingPanel if self.view == View::Plan => vec![self.outline()],
            Kind::ExistingPanel => vec![self.hatched(false, 3), self.outline()],
            Kind::UncountedPanel => vec![self.outline(), self.line(Layer::Hidden, (0, 8), (8, 0))],
            Kind::RemovedPanel | Kind::RemovedVent | Kind::AccessDoor | Kind::NewJoistBlock => {
                self.crossed_out().to_vec()
            }
            Kind::Vent | Kind::NewVent if self.view == View::Plan => {
                vec![self.outline(), self.line(layer, (4, 0), (4, 8))]
            }
            Kind::Vent | Kind::NewVent => {
                let mut strokes = vec![self.outline()];
                strokes.extend([2, 4, 6].map(|up| self.line(Layer::Existing, (1, up), (7, up))));
                strokes
            }
            Kind::Pipe => {
                let extent = self.extent();
                let radius = extent.width().min(extent.height()).nanometers() / 2;
                vec![
                    self.outline(),
                    Item {
                        layer,
                        shape: Shape::Circle {
                            center: extent.middle(),
                            radius: Length::from_nanometers(radius),
                        },
                    },
                ]
            }
            Kind::Blocked => vec![self.outline(), self.hatched(false, 2)],
            Kind::NewClip => vec![self.solid(&[(0, 8), (4, 0), (8, 8)])],
            Kind::NewEndJoist => vec![self.outline(), self.line(Layer::New, (0, 4), (8, 4))],
            Kind::NewSill => vec![self.outline(), self.hatched(true, 1)],
            Kind::Joists | Kind::JoistsTaken => vec![
                self.line(layer, (0, 4), (8, 4)),
                self.line(Layer::Existing, (0, 4), (1, 1)),
                self.line(Layer::Existing, (0, 4), (1, 7)),
                self.line(Layer::Existing, (8, 4), (7, 1)),
                self.line(Layer::Existing, (8, 4), (7, 7)),
            ],
            Kind::Post => {
                let inner = [(2, 2), (6, 2), (6, 6), (2, 6)].map(|(along, up)| self.place(along, up));
                vec![
                    self.outline(),
                    Item {
                        layer,
                        shape: Shape::Polyline {
                            points: inner.to_vec(),
                            is_closed: true,
                        },
                    },
                ]
            }
        }
    }

    /// A head, and in elevation the rod below it.
    fn anchor(&self) -> Vec<Item> {
        let layer = self.kind.layer();
        let extent = self.extent();
        let radius = Length::from_nanometers(extent.width().nanometers() / 2);
        let center = match self.view {
            View::Plan => extent.middle(),
            View::Elevation => Point::new(
                halfway(extent.low.x, extent.high.x),
                extent.high.y.saturating_sub(radius),
            ),
        };
        let mut strokes = Vec::new();
        if self.view == View::Elevation {
            let top = center.y.saturating_sub(radius);
            let foot = Length::from_nanometers(radius.nanometers() / 2);
            let bottom = Point::new(center.x, extent.low.y);
            strokes.push(Item {
                layer,
                shape: Shape::Line(bottom, Point::new(center.x, top)),
            });
            strokes.push(Item {
                layer,
                shape: Shape::Line(
                    bottom.moved(Length::ZERO.saturating_sub(foot), Length::ZERO),
                    bottom.moved(foot, Length::ZERO),
                ),
            });
        }
        let back = Length::ZERO.saturating_sub(radius);
        match self.kind {
            Kind::NewAnchor => strokes.push(Item {
                layer,
                shape: Shape::Disk { center, radius },
            }),
            _ => strokes.push(Item {
                layer,
                shape: Shape::Circle { center, radius },
            }),
        }
        if self.kind == Kind::MendedAnchor {
            strokes.push(Item {
                layer: Layer::New,
                shape: Shape::Line(center.moved(back, back), center.moved(radius, back)),
            });
        }
        if self.kind == Kind::UncountedAnchor {
            strokes.push(Item {
                layer,
                shape: Shape::Line(center.moved(back, back), center.moved(radius, radius)),
            });
            strokes.push(Item {
                layer,
                shape: Shape::Line(center.moved(back, radius), center.moved(radius, back)),
            });
        }
        strokes
    }
}
