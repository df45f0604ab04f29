//! Near matches for a misspelt name.

/// The one of `known` that was most likely meant, if any is near enough.
pub fn near<'k>(found: &str, known: impl IntoIterator<Item = &'k str>) -> Option<&'k str> {
    let plain = folded(found);
    known
        .into_iter()
        .filter_map(|name| {
            let other = folded(name);
            let distance = strsim::osa_distance(&plain, &other);
            let longest = plain.chars().count().max(other.chars().count());
            let enough = distance * 3 <= longest && distance <= 4;
            let holds = plain.chars().count() >= 4 && other.contains(&plain);
            (enough || holds).then_some((distance, name))
        })
        .min_by_key(|(distance, name)| (*distance, name.len(), *name))
        .map(|(_, name)| name)
}

/// Letters and digits alone, in lower case: spelling habits set aside.
fn folded(name: &str) -> String {
    name.chars()
        .filter(|c| c.is_alphanumeric())
        .flat_map(char::to_lowercase)
        .collect()
}

/// Names in a row, for a sentence: `a, b or c`.
pub fn listed(names: &[&str]) -> String {
    match names {
        [] => "nothing".to_owned(),
        [only] => (*only).to_owned(),
        [some @ .., last] => format!("{} or {last}", some.join(", ")),
    }
}
