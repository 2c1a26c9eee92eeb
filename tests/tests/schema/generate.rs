//! From types to schemas, in the draft that editors know best: 7.

use schemars::generate::{SchemaGenerator, SchemaSettings};
use schemars::transform::transform_subschemas;
use schemars::{JsonSchema, Schema};
use serde_json::Value;

/// A schema of files that people write: what may be left out may not be null.
pub(crate) fn of_file<T: JsonSchema>() -> Value {
    let settings = SchemaSettings::draft07().with(|settings| {
        // Before references lose what stands beside them.
        settings.transforms.insert(0, Box::new(never_null));
        settings.transforms.push(Box::new(without_sizes));
    });
    finish::<T>(settings.into_generator())
}

/// A schema of what the program writes: every key is there, and more may come.
pub(crate) fn of_answer<T: JsonSchema>() -> Value {
    let settings = SchemaSettings::draft07().for_serialize().with_transform(open).with_transform(without_sizes);
    finish::<T>(settings.into_generator())
}

fn finish<T: JsonSchema>(generator: SchemaGenerator) -> Value {
    generator.into_root_schema_for::<T>().to_value()
}

/// Takes null away from what a schema allows.
fn never_null(schema: &mut Schema) {
    transform_subschemas(&mut never_null, schema);
    if let Some(Value::Array(types)) = schema.get_mut("type") {
        types.retain(|one| one != "null");
        if let [only] = &types[..] {
            let only = only.clone();
            schema.insert("type".to_owned(), only);
        }
    }
    if let Some(Value::Array(any)) = schema.get_mut("anyOf") {
        let before = any.len();
        any.retain(|one| one["type"] != "null");
        if let ([Value::Object(only)], true) = (&any[..], before == 2) {
            let only = only.clone();
            schema.remove("anyOf");
            for (key, value) in only {
                schema.insert(key, value);
            }
        }
    }
}

/// Lets keys be added.
fn open(schema: &mut Schema) {
    transform_subschemas(&mut open, schema);
    schema.remove("additionalProperties");
}

/// Forgets how Rust keeps a number: `uint8` is no format that others know.
fn without_sizes(schema: &mut Schema) {
    transform_subschemas(&mut without_sizes, schema);
    schema.remove("format");
}
