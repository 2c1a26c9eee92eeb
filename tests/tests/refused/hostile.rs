//! Texts that mean harm.

use legwork_file::{Checker, Source};

use crate::refuse;

/// The program's own mistakes aside, these would take the machine down or a technician's patience.
fn hostile() -> Vec<(&'static str, String, &'static str)> {
    let head = "format = 1\n[service]\nsplit = \"42/54 MHz\"\n\
         carriers = [{ first = \"57 MHz\", last = \"861 MHz\", step = \"6 MHz\" }]\n\
         [entry]\nforward = [[\"57 MHz\", \"12 dBmV\"], [\"861 MHz\", \"7 dBmV\"]]\n";
    let joint = |id: usize, after: &str| format!("[[part]]\nid = \"j{id}\"\nafter = \"{after}\"\njoint = \"joint\"\n");
    let chain = |length: usize| -> String {
        let parts = (0..length).map(|id| joint(id, &if id == 0 { "entry".to_owned() } else { format!("j{}", id - 1) }));
        head.to_owned() + &parts.collect::<String>()
    };
    let one_line = |text: String| {
        format!(
            "{{\"format\": 1, \"name\": \"{}\", \"part\": [{{\"id\": \"a\", \"after\": {text}}}]}}",
            "x".repeat(5000)
        )
    };
    vec![
        ("empty.toml", String::new(), "format: this key is missing"),
        ("empty.json", String::new(), "the text ends"),
        ("blank.toml", "\n \n".repeat(1000), "format: this key is missing"),
        ("only-nul.toml", "\0".repeat(1000), "not TOML"),
        ("only-nul.json", "\0".repeat(1000), "not JSON"),
        ("chain-of-1025.toml", chain(1025), "at most 1024 parts"),
        ("chain-of-5000.toml", chain(5000), "at most 1024 parts"),
        (
            "parts-10000.toml",
            head.to_owned() + &(0..10_000).map(|id| joint(id, "entry")).collect::<String>(),
            "at most 1024 parts",
        ),
        (
            "parts-20001.toml",
            head.to_owned() + &(0..20_001).map(|id| joint(id, "entry")).collect::<String>(),
            "at most",
        ),
        (
            "all-on-one-port.toml",
            head.to_owned() + &(0..1000).map(|id| joint(id, "entry")).collect::<String>(),
            "one port takes one",
        ),
        (
            "one-id-for-all.toml",
            head.to_owned() + &(0..1000).map(|_| joint(0, "entry")).collect::<String>(),
            "ids have to differ",
        ),
        (
            "ring-of-1000.toml",
            head.to_owned() + &(0..1000).map(|id| joint(id, &format!("j{}", (id + 1) % 1000))).collect::<String>(),
            "loop",
        ),
        (
            "outlets-5000.toml",
            head.to_owned()
                + &(0..5000)
                    .map(|id| format!("[[outlet]]\nid = \"o{id}\"\nafter = \"entry\"\ndevice = \"tv\"\n"))
                    .collect::<String>(),
            "",
        ),
        (
            "supplies-5000.toml",
            head.to_owned()
                + &(0..5000)
                    .map(|id| {
                        format!("[[supply]]\nid = \"s{id}\"\nafter = \"entry\"\nvolts = \"15 V\"\namps = \"1 A\"\n")
                    })
                    .collect::<String>(),
            "one port takes one",
        ),
        (
            "blocks-20000.toml",
            format!(
                "format = 1\n[service]\nsplit = \"42/54 MHz\"\ncarriers = [\n{}]\n",
                "  { first = \"57 MHz\", last = \"63 MHz\", step = \"6 MHz\" },\n".repeat(20_000)
            ),
            "overlap",
        ),
        (
            "points-50000.toml",
            format!("format = 1\n[entry]\nforward = [\n{}]\n", "  [\"57 MHz\", \"0 dBmV\"],\n".repeat(50_000)),
            "at most",
        ),
        (
            "unknown-keys-20000.toml",
            head.to_owned() + "[climate]\n" + &(0..20_000).map(|key| format!("k{key} = 1\n")).collect::<String>(),
            "unknown",
        ),
        (
            "specs-1025.toml",
            head.to_owned()
                + &(0..1025).map(|name| format!("[spec.joint.n{name}]\nloss = \"1 dB\"\n")).collect::<String>(),
            "at most",
        ),
        ("deep-list.json", "[".repeat(200_000), "too deep"),
        ("deep-list.toml", format!("format = {}1{}", "[".repeat(50_000), "]".repeat(50_000)), ""),
        ("deep-table.json", "{\"a\":".repeat(100_000), "too deep"),
        ("deep-table.toml", format!("a = {}", "{ a = ".repeat(50_000)), ""),
        ("deep-dotted-key.toml", format!("{}b = 1", "a.".repeat(50_000)), ""),
        ("deep-header.toml", format!("[{}b]\n", "a.".repeat(50_000)), ""),
        ("deep-spec.json", format!("{{\"spec\": {}1{}", "{\"joint\":".repeat(60), "}".repeat(61)), "too deep"),
        ("many-values.json", format!("[{}1]", "1,".repeat(1_000_000)), "more values"),
        ("long-id.toml", head.to_owned() + &joint(0, &"x".repeat(1_000_000)), "no part of that id"),
        ("long-number.toml", format!("format = {}\n", "9".repeat(1_000_000)), "format 1"),
        ("long-number.json", format!("{{\"format\": {}}}", "9".repeat(1_000_000)), "format 1"),
        ("long-exponent.json", format!("{{\"format\": 1e{}}}", "9".repeat(100_000)), "format 1"),
        (
            "long-quantity.toml",
            head.replace("42/54 MHz", &format!("{}/54 MHz", "4".repeat(1_000_000))),
            "service.split",
        ),
        ("long-key.toml", format!("format = 1\n{} = 1\n", "k".repeat(1_000_000)), "unknown"),
        ("long-line.json", one_line("\"entyr\"".to_owned()), "did you mean `entry`"),
        ("long-line-of-wide.json", one_line(format!("\"{}\"", "線".repeat(5000))), "no part of that id"),
        (
            "long-line-of-a-megabyte.json",
            format!("{{\"format\": {}1, \"nmae\": 1}}", " ".repeat(1 << 20)),
            "did you mean `name`",
        ),
        ("text-of-9-mb.toml", " ".repeat(9 << 20), "at most 2097152 bytes"),
        ("escapes.json", format!("{{\"format\": \"{}\"}}", "\\u0000".repeat(100_000)), "format 1"),
        ("half-a-surrogate.json", "{\"format\": \"\\ud800\"}".to_owned(), "not JSON"),
        ("tabs.toml", format!("format = 1\n{}nmae = \"x\"\n", "\t".repeat(3000)), "did you mean `name`"),
    ]
}

#[test]
fn hostile_texts_are_refused_in_time_and_in_few_words() {
    let checker = &mut Checker::new();
    let mut wrong = Vec::new();
    for (name, text, says) in hostile() {
        match refuse(checker, name, text.as_bytes()) {
            Err(taken) => wrong.push(taken),
            Ok(refusal) => {
                let message = refusal.render(false);
                if !message.contains(says) {
                    wrong.push(format!("no `{says}` in:\n{}", message.chars().take(2000).collect::<String>()));
                }
                let longest = message.lines().map(|line| line.chars().count()).max().unwrap_or(0);
                if message.len() > 20_000 || longest > 400 {
                    wrong.push(format!("{name}: a message of {} bytes, lines of {longest}", message.len()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn a_home_of_as_many_parts_and_a_text_of_as_many_values_as_may_be_is_read() {
    let (_, chain, _) = hostile().into_iter().find(|(name, ..)| *name == "chain-of-1025.toml").expect("it is there");
    let last = chain.rfind("[[part]]").expect("a part");
    let source = Source::new("chain-of-1024.toml", &chain.as_bytes()[..last]).expect("a text");
    assert!(Checker::new().check(&source, None).is_ok());
    // The list is a value too.
    for (items, too_many) in [(399_999, false), (400_000, true)] {
        let text = format!("[{}1]", "1,".repeat(items - 1));
        let refusal = refuse(&mut Checker::new(), "values.json", text.as_bytes()).expect("it is refused");
        assert_eq!(refusal.render(false).contains("more values"), too_many, "{items}");
    }
}
