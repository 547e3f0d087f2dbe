//! The Python module.

use std::path::PathBuf;

use arrow_array::RecordBatchReader;
use pyo3::exceptions::{PyOSError, PyRuntimeError, PyValueError};
use pyo3::prelude::*;
use pyo3_arrow::input::AnyRecordBatch;
use pyo3_arrow::{PyRecordBatch, PyTable};
use retrofit_core::provisions::Library;
use retrofit_report::input::add_table_folders;

use crate::batch::{BatchError, Checker};

/// Checks houses against a set of prescriptive provisions, table by table.
///
/// A table is anything that speaks the Arrow C interface: a record batch or table of `pyarrow`, a data frame
/// of `polars` or `pandas`, a relation of `duckdb`. Its columns are those of `retrofit triage --columns`; a blank or null is
/// unknown, never zero and never fine. What is said is what was checked, by which provision, and what was not seen;
/// it is not a design, a permit or an engineer's opinion.
#[pyclass(name = "Checker", module = "retrofit_arrow", frozen)]
struct PyChecker {
    checker: Checker,
    provisions: String,
}

#[pymethods]
impl PyChecker {
    /// By the set of provisions of this name; with folders of tables of your own, those too.
    #[new]
    #[pyo3(signature = (provisions = None, tables = Vec::new()))]
    fn new(provisions: Option<&str>, tables: Vec<PathBuf>) -> PyResult<Self> {
        let mut library = Library::shipped().clone();
        for folder in &tables {
            add_table_folders(&mut library, folder).map_err(|error| PyOSError::new_err(error.to_string()))?;
        }
        let id = provisions.unwrap_or(Library::DEFAULT_SET);
        let set = library.set(id).map_err(|errors| {
            let errors: Vec<String> = errors.iter().map(ToString::to_string).collect();
            PyValueError::new_err(errors.join("\n"))
        })?;
        Ok(Self {
            provisions: set.id.clone(),
            checker: Checker::new(set),
        })
    }

    /// The name of the set of provisions.
    #[getter]
    fn provisions(&self) -> &str {
        &self.provisions
    }

    /// Checks a record batch; a record batch with a row for each of its rows.
    fn check_batch(&self, py: Python<'_>, batch: PyRecordBatch) -> PyResult<PyRecordBatch> {
        let batch = batch.into_inner();
        let checked = py.detach(|| self.checker.check(&batch));
        checked.map(PyRecordBatch::new).map_err(raised)
    }

    /// Checks a table; a table with a row for each of its rows.
    fn check(&self, py: Python<'_>, table: AnyRecordBatch) -> PyResult<PyTable> {
        let reader = table.into_reader()?;
        let empty = arrow_array::RecordBatch::new_empty(reader.schema());
        let checked = py.detach(|| {
            // A table without a batch still has columns of results.
            let mut results = vec![self.checker.check(&empty)?];
            for batch in reader {
                results.push(self.checker.check(&batch?)?);
            }
            Ok(results)
        });
        let results = checked.map_err(raised)?;
        let schema = results.first().map(arrow_array::RecordBatch::schema);
        let schema = schema.ok_or_else(|| PyRuntimeError::new_err("no results"))?;
        PyTable::try_new(results, schema)
    }

    fn __repr__(&self) -> String {
        format!("Checker(provisions={:?})", self.provisions)
    }
}

fn raised(error: BatchError) -> PyErr {
    match error {
        BatchError::Columns(_) | BatchError::Arrow(_) => PyValueError::new_err(error.to_string()),
        BatchError::Results(_) | BatchError::BrokeOff => PyRuntimeError::new_err(error.to_string()),
    }
}

/// Judges many older raised-floor wood houses against prescriptive provisions for their seismic strengthening.
#[pymodule]
fn retrofit_arrow(module: &Bound<'_, PyModule>) -> PyResult<()> {
    module.add("__version__", env!("CARGO_PKG_VERSION"))?;
    module.add_class::<PyChecker>()?;
    module.add_class::<PyRecordBatch>()?;
    module.add_class::<PyTable>()
}
