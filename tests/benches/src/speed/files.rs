//! What ships, read: the rig of the tests stands on it.

use rackside::domain::exercise::Catalogue;
use rackside::domain::gear::{Place, PlaceId};
use rackside::formats::{gear_file, table};

/// All exercises that ship.
pub fn catalogue() -> Catalogue {
    table::catalogue(None).unwrap_or_else(|problems| panic!("{}", problems[0]))
}

/// All places that ship.
pub fn places() -> Vec<Place> {
    let read = |(id, text): &(&str, &str)| {
        let name = PlaceId::new(id).unwrap_or_else(|| panic!("{id} is a name"));
        gear_file::read(id, &name, text).unwrap_or_else(|problems| panic!("{}", problems[0]))
    };
    gear_file::SHIPPED.iter().map(read).collect()
}
