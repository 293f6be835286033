//! The points of a list: a CSV file with a column for each factor.

use crate::factor::Factor;
use crate::problem::Problems;
use serde_json::Value;

/// The values of every factor, row by row.
pub(crate) fn read(
    text: &str,
    name: &str,
    factors: &[Factor],
    problems: &mut Problems,
) -> Vec<Vec<Value>> {
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .from_reader(text.trim_start_matches('\u{feff}').as_bytes());
    let heads: Vec<String> = match reader.headers() {
        Ok(heads) => heads.iter().map(str::to_owned).collect(),
        Err(error) => {
            problems.push(format!("{name} cannot be read: {error}"));
            return Vec::new();
        }
    };
    for head in &heads {
        if !factors.iter().any(|factor| factor.name == *head) {
            problems.push(format!(
                "{name} has a column “{head}”, and no factor is called so. Columns are named as factors are"
            ));
        }
    }
    let places: Vec<Option<usize>> =
        factors.iter().map(|factor| heads.iter().position(|head| *head == factor.name)).collect();
    for (factor, _) in factors.iter().zip(&places).filter(|(_, place)| place.is_none()) {
        problems.push(format!("{name} has no column “{}”, which is a factor", factor.name));
    }
    let mut points = Vec::new();
    for record in reader.records() {
        match record {
            Ok(record) => points.push(
                places.iter().map(|place| value(place.and_then(|at| record.get(at)))).collect(),
            ),
            Err(error) => problems.push(format!("{name} cannot be read: {error}")),
        }
    }
    if points.is_empty() {
        problems.push(format!("{name} lists no points"));
    }
    points
}

/// A cell as a scenario takes it: number, yes or no, list or object where it is one, else text.
fn value(cell: Option<&str>) -> Value {
    let cell = cell.unwrap_or_default();
    serde_json::from_str(cell).unwrap_or_else(|_| Value::from(cell))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::factor::Values;
    use serde_json::json;

    #[test]
    fn closed_cells_are_numbers_words_or_texts_and_columns_come_in_any_order() {
        let factor = |name: &str| Factor {
            name: name.to_owned(),
            pointer: format!("/{name}"),
            values: Values::Listed,
        };
        let factors = [factor("a"), factor("b")];
        let mut problems = Problems::default();
        let found = read("b, a\n60 ft, 3\ntrue,\n", "p.csv", &factors, &mut problems);
        assert_eq!(json!(found), json!([[3, "60 ft"], ["", true]]));
        assert!(problems.all().is_empty());
        read("a,c\n1,2\n", "p.csv", &factors, &mut problems);
        assert_eq!(problems.all().len(), 2, "{problems}");
    }
}
