//! TypeScript types of all that goes to the engine and comes from it, from the schemas that are published.

use rowscape::job::{Brief, ReviseBrief};
use rowscape_engine::question::Question;
use rowscape_engine::refusal::Refusal;
use rowscape_engine::reply::Reply;
use rowscape_engine::told::Told;
use schemars::{JsonSchema, SchemaGenerator};
use serde_json::{Value, json};

use crate::Places;
use crate::tools::{Wrong, of_node, run};

fn property<T: JsonSchema>(generator: &mut SchemaGenerator) -> Value {
    generator.subschema_for::<T>().into()
}

/// Writes `rowscape.d.ts`.
pub fn write(places: &Places) -> Result<(), Wrong> {
    let mut generator = SchemaGenerator::default();
    let properties = json!({
        "brief": property::<Brief>(&mut generator),
        "change": property::<ReviseBrief>(&mut generator),
        "question": property::<Question>(&mut generator),
        "reply": property::<Reply>(&mut generator),
        "refusal": property::<Refusal>(&mut generator),
        "told": property::<Told>(&mut generator),
    });
    let mut schema = json!({
        "title": "Everything",
        "type": "object",
        "additionalProperties": false,
        "required": ["brief", "change", "question", "reply", "refusal", "told"],
        "properties": properties,
        "$defs": generator.take_definitions(true),
    });
    untitle(&mut schema);
    let path = places.out.join("built/rowscape.schema.json");
    std::fs::write(&path, format!("{schema:#}\n")).map_err(|error| Wrong::at(&path, error))?;
    run(of_node(places, "json-schema-to-typescript/dist/src/cli.js")
        .args(["--no-additionalProperties", "--no-format", "--input"])
        .arg(&path)
        .arg("--output")
        .arg(places.out.join("built/rowscape.d.ts")))
}

/// Takes the titles off all that is defined, so that types have the names of the engine, and puts the rest as the
/// maker of types reads it: lists of fixed length in the older form, references alone.
fn untitle(schema: &mut Value) {
    let defined = schema.get_mut("$defs").and_then(Value::as_object_mut);
    for definition in defined.into_iter().flat_map(|defined| defined.values_mut()) {
        definition.as_object_mut().and_then(|fields| fields.remove("title"));
    }
    plain(schema);
}

fn plain(schema: &mut Value) {
    match schema {
        Value::Array(values) => values.iter_mut().for_each(plain),
        Value::Object(fields) => {
            fields.values_mut().for_each(plain);
            if let Some(items) = fields.remove("prefixItems") {
                fields.insert("items".into(), items);
                fields.insert("additionalItems".into(), false.into());
            }
            if let Some(Value::String(to)) = fields.get("$ref") {
                *schema = json!({ "$ref": to });
            }
        }
        _ => {}
    }
}
