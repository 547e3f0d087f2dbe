//! The standards that one screen computes by: an edition of each.

use std::sync::LazyLock;

use super::aci318::Aci318;
use super::asce7::Asce7;
use super::existing::ExistingBuildings;
use super::nds::Nds;
use super::sdpws::Sdpws;
use super::soil::Soil;
use super::standard::{Edition, StandardName, StandardTable};
use super::weights::DeadLoads;
use crate::table::{TableError, TableFile};

/// An edition of each standard.
///
/// ```
/// use retrofit_core::screen::Standards;
/// let latest = Standards::shipped().unwrap();
/// let older = Standards::choose(&["asce7-10", "sdpws-2008"]).unwrap();
/// assert_eq!(latest.asce7.edition.name(), "ASCE 7-16");
/// assert_eq!(older.asce7.edition.name(), "ASCE 7-10");
/// assert_eq!(older.nds.edition, latest.nds.edition);
/// assert!(Standards::choose(&["asce7-1066"]).is_err());
/// ```
#[derive(Debug)]
pub struct Standards {
    /// Seismic loads.
    pub asce7: Asce7,
    /// Shear walls.
    pub sdpws: Sdpws,
    /// Wood members and connections.
    pub nds: Nds,
    /// Concrete and anchors in it.
    pub concrete: Aci318,
    /// Soil.
    pub soil: Soil,
    /// Weights of materials.
    pub loads: DeadLoads,
    /// Existing buildings.
    pub existing: ExistingBuildings,
    /// Equilibrium, which no standard has to state.
    pub statics: Edition,
}

/// Folders of tables, read and by name.
#[derive(Debug)]
pub struct StandardFolder {
    /// The name of the folder.
    pub id: String,
    /// Its files.
    pub files: Vec<TableFile>,
}

/// The tables chosen so far, one for each standard.
#[derive(Default)]
struct Chosen(Vec<StandardTable>);

impl Chosen {
    fn put(&mut self, table: StandardTable) {
        self.0
            .retain(|other| other.edition.standard != table.edition.standard);
        self.0.push(table);
    }

    fn of<T>(
        &self,
        name: StandardName,
        parse: impl FnOnce(&StandardTable) -> Result<T, Vec<TableError>>,
        faults: &mut Vec<TableError>,
    ) -> Option<T> {
        let table = self.0.iter().find(|table| table.edition.standard == name);
        match table.map(parse) {
            Some(Ok(read)) => Some(read),
            Some(Err(errors)) => {
                faults.extend(errors);
                None
            }
            None => {
                faults.push(TableError::set(
                    "standards",
                    format!("no edition of {name:?} is shipped"),
                ));
                None
            }
        }
    }
}

impl Standards {
    /// The default edition of each, as shipped.
    pub fn shipped() -> Result<&'static Self, &'static [TableError]> {
        static STANDARDS: LazyLock<Result<Standards, Vec<TableError>>> =
            LazyLock::new(|| Standards::choose(&[]));
        STANDARDS.as_ref().map_err(Vec::as_slice)
    }

    /// The editions of these names, and the default one of every other standard; the error lists every fault.
    pub fn choose(ids: &[&str]) -> Result<Self, Vec<TableError>> {
        Self::with_folders(ids, &[])
    }

    /// The same, with folders of a user's own, which may be named too; a folder of the user's takes the place of the
    /// shipped edition of its standard even where it is not named.
    pub fn with_folders(ids: &[&str], folders: &[StandardFolder]) -> Result<Self, Vec<TableError>> {
        let mut faults = Vec::new();
        let mut chosen = Chosen::default();
        for id in StandardTable::shipped_ids() {
            let table = StandardTable::is_shipped_default(id)
                .and_then(|is_default| is_default.then(|| StandardTable::shipped(id)).transpose());
            match table {
                Ok(table) => table.into_iter().for_each(|table| chosen.put(table)),
                Err(errors) => faults.extend(errors),
            }
        }
        for folder in folders {
            match StandardTable::read(&folder.id, &folder.files) {
                Ok(table) => chosen.put(table),
                Err(errors) => faults.extend(errors),
            }
        }
        for id in ids {
            if folders.iter().any(|folder| folder.id == *id) {
                continue;
            }
            match StandardTable::shipped(id) {
                Ok(table) => chosen.put(table),
                Err(_) => faults.push(TableError::set(
                    id,
                    format!(
                        "no such edition; expected one of {}",
                        StandardTable::shipped_ids().collect::<Vec<_>>().join(", ")
                    ),
                )),
            }
        }
        let asce7 = chosen.of(StandardName::SeismicLoads, Asce7::parse, &mut faults);
        let sdpws = chosen.of(StandardName::ShearWalls, Sdpws::parse, &mut faults);
        let nds = chosen.of(StandardName::WoodConnections, Nds::parse, &mut faults);
        let concrete = chosen.of(StandardName::Concrete, Aci318::parse, &mut faults);
        let soil = chosen.of(StandardName::Soil, Soil::parse, &mut faults);
        let loads = chosen.of(StandardName::DeadLoads, DeadLoads::parse, &mut faults);
        let existing = chosen.of(
            StandardName::ExistingBuildings,
            ExistingBuildings::parse,
            &mut faults,
        );
        match (asce7, sdpws, nds, concrete, soil, loads, existing) {
            (
                Some(asce7),
                Some(sdpws),
                Some(nds),
                Some(concrete),
                Some(soil),
                Some(loads),
                Some(existing),
            ) if faults.is_empty() => Ok(Self {
                asce7,
                sdpws,
                nds,
                concrete,
                soil,
                loads,
                existing,
                statics: Edition {
                    id: "statics".into(),
                    document: "Statics".into(),
                    ..Edition::default()
                },
            }),
            _ => Err(faults),
        }
    }

    /// The editions, for a reader.
    pub fn editions(&self) -> [&Edition; 7] {
        [
            &self.asce7.edition,
            &self.sdpws.edition,
            &self.nds.edition,
            &self.concrete.edition,
            &self.soil.edition,
            &self.loads.edition,
            &self.existing.edition,
        ]
    }
}
