#![doc = include_str!("../docs/firmware.md")]
