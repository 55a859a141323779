//! The published form of scripts, held against what the program itself takes, by another program's reading of it.

use std::path::Path;

use crate::dialogue::player::library;
use crate::python;

const SCHEMA: &str = include_str!("../../scripts/dialogue/script.schema.json");
const TEN: &str = include_str!("../data/craft/ten-questions.toml");

/// What jsonschema finds amiss in each script.
fn amiss(scripts: &[toml::Table]) -> Vec<Option<String>> {
    let schema: serde_json::Value = serde_json::from_str(SCHEMA).unwrap();
    let given = serde_json::json!({ "schema": schema, "scripts": scripts });
    python::answer("reference/craft_schema.py", &[], &given)
}

#[test]
fn every_shipped_flow_has_the_published_form() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scripts/dialogue/flow");
    let files: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|file| file.unwrap().path())
        .collect();
    assert!(files.len() >= 7);
    let mut flows: Vec<toml::Table> = files
        .iter()
        .map(|file| std::fs::read_to_string(file).unwrap().parse().unwrap())
        .collect();
    flows.push(TEN.parse().unwrap());
    for (flow, amiss) in flows.iter().zip(amiss(&flows)) {
        assert_eq!(amiss, None, "{}", flow["name"]);
    }
}

#[test]
fn what_breaks_the_form_is_found_by_both() {
    let broken = [
        ("name = \"mine\"", "name = \"Mine Own\""),
        ("version = 1", "version = \"one\""),
        ("start = \"plan\"\n", ""),
        ("words = { into = \"plan\" }", "words = { into = \"The Plan\" }"),
        (
            "words = { into = \"plan\" }",
            "words = { into = \"plan\" }\npress = true",
        ),
        ("field = \"inner\"", "field = \"inside\""),
        ("many = true", "many = \"yes\""),
        ("{ link = \"pulls\"", "{ link = \"pushes\""),
        ("{ set = \"planned\" }", "{ burn = \"planned\" }"),
        ("act = \"act\", ", ""),
        ("\"sure < 7\"", "\"sure <> 7\""),
        ("\"count.toward > 0\"", "\"count.cats > 0\""),
        ("show = \"map\"", "show = \"maps\""),
        ("press = true", "press = false"),
        ("ask = \"why.ask\"", "aks = \"why.ask\""),
        ("say = [\"plan.1\"]", "say = \"plan.1\""),
        ("say = \"rest.yes\", ", ""),
        (
            "go = \"end\"\n\n[[node]]\nname = \"kept\"",
            "\n[[node]]\nname = \"kept\"",
        ),
    ];
    let texts: Vec<String> = broken
        .iter()
        .map(|(from, to)| {
            assert!(TEN.contains(from), "{from}");
            TEN.replacen(from, to, 1)
        })
        .collect();
    let tables: Vec<toml::Table> = texts.iter().map(|text| text.parse().unwrap()).collect();
    for ((text, (_, to)), amiss) in texts.iter().zip(broken).zip(amiss(&tables)) {
        assert!(
            library().with("mine.toml", text).is_err(),
            "the program takes {to:?}"
        );
        assert!(amiss.is_some(), "the schema takes {to:?}");
    }
}
