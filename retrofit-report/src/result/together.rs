//! Paths into a house file that differ only in their positions, written as one.

/// The paths as few as they can be written: those that differ in one position become one path with all of
/// its positions, as RFC 9535 writes them.
pub(super) fn paths(paths: &[String]) -> Vec<String> {
    // Positions stand at the odd places: `wall_lines[0].rim` is "wall_lines", "0", ".rim".
    let mut split: Vec<Vec<String>> = Vec::new();
    for path in paths {
        let parts: Vec<String> = path.split(['[', ']']).map(str::to_owned).collect();
        if !split.contains(&parts) {
            split.push(parts);
        }
    }
    let longest = split.iter().map(Vec::len).max().unwrap_or(0);
    // The innermost positions first: the anchors of one wall line belong together before two wall lines do.
    for place in (0..longest).rev().filter(|place| place % 2 == 1) {
        let mut merged: Vec<Vec<String>> = Vec::new();
        for parts in split {
            let twin = merged.iter_mut().find(|other| {
                let mut pairs = other.iter().zip(&parts).enumerate();
                other.len() == parts.len() && pairs.all(|(at, (one, other))| at == place || one == other)
            });
            match (twin, parts.get(place)) {
                (Some(twin), Some(position)) => {
                    if let Some(positions) = twin.get_mut(place) {
                        positions.push(',');
                        positions.push_str(position);
                    }
                }
                _ => merged.push(parts),
            }
        }
        split = merged;
    }
    split.iter().map(|parts| written(parts)).collect()
}

fn written(parts: &[String]) -> String {
    let mut path = String::new();
    for (at, part) in parts.iter().enumerate() {
        if at % 2 == 1 {
            path.extend(["[", part, "]"]);
        } else {
            path.push_str(part);
        }
    }
    path
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    #[rstest]
    #[case::none(&[], &[])]
    #[case::alone(&["site.slope"], &["site.slope"])]
    #[case::twice(&["site.slope", "site.slope"], &["site.slope"])]
    #[case::wall_lines(&["wall_lines[0].rim", "wall_lines[3].rim"], &["wall_lines[0,3].rim"])]
    #[case::other_keys(&["wall_lines[0].rim", "wall_lines[3].sill"], &["wall_lines[0].rim", "wall_lines[3].sill"])]
    #[case::inner_first(
        &["wall_lines[0].anchors[1].kind", "wall_lines[0].anchors[2].kind", "wall_lines[1].anchors[5].kind"],
        &["wall_lines[0].anchors[1,2].kind", "wall_lines[1].anchors[5].kind"]
    )]
    #[case::both(
        &["w[0].a[1].k", "w[0].a[2].k", "w[1].a[1].k", "w[1].a[2].k"],
        &["w[0,1].a[1,2].k"]
    )]
    #[case::list_as_a_whole(&["w[0].a[].k", "w[2].a[].k"], &["w[0,2].a[].k"])]
    fn paths_that_differ_in_one_position_become_one(#[case] paths: &[&str], #[case] expected: &[&str]) {
        let paths: Vec<String> = paths.iter().map(|path| (*path).to_owned()).collect();
        assert_eq!(super::paths(&paths), expected);
    }
}
