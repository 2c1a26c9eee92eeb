//! The texts of homes: in both formats, and damaged.

use legwork_file::Source;
use legwork_tests::{home, to_toml};
use proptest::collection::vec;
use proptest::prelude::*;

use crate::{check, for_all, seeds};

#[test]
fn toml_and_json_give_the_same_report() {
    for_all(seeds, |checker, seed| {
        let home = home(seed);
        let json = check(checker, "home.json", &home.to_string())?;
        let toml = check(checker, "home.toml", &to_toml(&home))?;
        prop_assert_eq!(json, toml);
        Ok(())
    });
}

#[test]
fn a_damaged_text_is_taken_or_refused_and_nothing_else() {
    let damage = || vec((any::<prop::sample::Index>(), any::<u8>(), 0..3u8), 1..6);
    for_all(
        move || (seeds(), prop::bool::ANY, damage()),
        |checker, (seed, toml, damage)| {
            let home = home(seed);
            let (name, text) = if toml { ("home.toml", to_toml(&home)) } else { ("home.json", home.to_string()) };
            let mut bytes = text.into_bytes();
            for (place, byte, kind) in damage {
                let place = place.index(bytes.len());
                match kind {
                    0 => bytes[place] = byte,
                    1 => bytes.truncate(place.max(1)),
                    _ => bytes.insert(place, byte),
                }
            }
            let refusal = match Source::new(name, &bytes) {
                Err(refusal) => refusal,
                Ok(source) => match checker.check(&source, None) {
                    Ok(_) => return Ok(()),
                    Err(refusal) => refusal,
                },
            };
            let message = refusal.render(false);
            prop_assert!(message.contains(name), "{}", message);
            prop_assert!((1..=10).contains(&refusal.problems().len()), "{}", message);
            Ok(())
        },
    );
}
