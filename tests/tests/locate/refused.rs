//! Files of readings that can't be used, and those that can in spite of what a spreadsheet does to them.

use legwork::Db;
use legwork_file::{Finder, Refusal, Source};
use serde_json::Value;

const HOME: &str = r#"
format = 1
[service]
split = "42/54 MHz"
carriers = [{ first = "57 MHz", last = "861 MHz", step = "6 MHz" }]
[entry]
forward = [["57 MHz", "12 dBmV"], ["861 MHz", "7 dBmV"]]
[[part]]
id = "lead-in"
after = "entry"
cable = "series-6"
length = "60 ft"
[[part]]
id = "power"
after = "lead-in"
inserter = "inserter"
[[part]]
id = "hall"
after = "power.rf"
splitter = "2-way"
terminated = [2]
[[outlet]]
id = "den, left"
after = "hall.1"
device = "tv"
[[supply]]
id = "wall wart"
after = "power.dc"
volts = "15 V"
amps = "500 mA"
"#;

fn locate(csv: &[u8]) -> Result<Value, Box<Refusal>> {
    let mut finder = Finder::new();
    let readings = Source::new("today.csv", csv)?;
    let located = finder.locate(&Source::new("home.toml", HOME.as_bytes())?, &readings, Db::constant(0.5))?;
    Ok(serde_json::from_str(&located.json()).expect("JSON"))
}

/// A text, and of what is said: line and column, field, value, and what to do.
const WRONG: [(&str, &str, &[&str]); 27] = [
    ("", "1:1", &["there is no header", "at,mhz,dbmv"]),
    ("\n\n", "1:1", &["there is no header"]),
    ("at,mhz,dbmv\n", "1:1", &["there is no usable reading"]),
    ("at,mhz,dbmv\nhall.1,57,\n,,\n\n", "1:1", &["there is no usable reading"]),
    ("at;mhz;dbmv\nhall.1;57;3\n", "1:1", &["semicolons", "save the file with commas"]),
    ("at\tmhz\tdbmv\n", "1:1", &["tabs"]),
    ("at,mhz,level\nhall.1,57,3\n", "1:1", &["dbmv = `at,mhz,level`", "not in the header"]),
    ("at,mhz,a;b\nhall.1,57,3\n", "1:1", &["dbmv = `at,mhz,a;b`", "the first line names the columns"]),
    ("at,mhz,dbm\nhall.1,57,3\n", "1:1", &["rename `dbm` to `dbmv`"]),
    ("at,mhz,dbmv,MHz\nhall.1,57,3,57\n", "1:13", &["mhz", "twice"]),
    ("at,mhz,dbmv\nhal.1,57,3\n", "2:1", &["at = `hal.1`", "did you mean `hall.1`?"]),
    ("at,mhz,dbmv\n\"den, lefy\",57,3\n", "2:1", &["did you mean `den, left`?"]),
    ("at,mhz,dbmv\nhall,57,3\n", "2:1", &["several ways out", "hall.1, hall.2"]),
    ("at,mhz,dbmv\npower,57,3\n", "2:1", &["it takes one of power.rf"]),
    ("at,mhz,dbmv\npower.dc,57,3\n", "2:1", &["power.dc", "carries DC only"]),
    ("at,mhz,dbmv\nwall wart,57,3\n", "2:1", &["a supply carries no signal"]),
    ("at,mhz,dbmv\n,57,3\n", "2:1", &["the place is missing", "`entry`"]),
    ("at,mhz,dbmv\nhall.1,0,3\n", "2:8", &["mhz = `0`", "outside what is possible"]),
    ("at,mhz,dbmv\nhall.1,57 dB,3\n", "2:8", &["mhz = `57 dB`", "a number of MHz above zero, as in 57"]),
    ("at,mhz,dbmv\nhall.1,-57,3\n", "2:8", &["mhz = `-57`"]),
    ("at,mhz,dbmv\r\n\r\nhall.1,\"57,5\",3\r\n", "3:8", &["mhz = `57,5`", "decimal with a point"]),
    ("at,mhz,dbmv\nhall.1,57,low\n", "2:11", &["dbmv = `low`", "there is no number", "as in -3.5"]),
    ("at,mhz,dbmv\nhall.1,57,NaN\n", "2:11", &["dbmv = `NaN`", "not a finite number"]),
    ("at,mhz,dbmv\nhall.1,57,3 dB\n", "2:11", &["dbmv = `3 dB`", "does not fit"]),
    ("at,mhz,dbmv\nhall.1,57\n", "2:8", &["ends before its level", "behind a comma"]),
    ("at,mhz,dbmv\nentry,57,12\n", "1:1", &["all usable readings are at the entry"]),
    ("at,mhz,dbmv\nentry,57,12\nhall.1,861,3\n", "1:1", &["read the entry at a second one, or leave it out"]),
];

#[test]
fn each_mistake_is_told_with_its_line_field_value_and_remedy() {
    for (text, place, says) in WRONG {
        let refusal = locate(text.as_bytes()).expect_err(text);
        let message = refusal.render(false);
        assert_eq!(refusal.problems().len(), 1, "{message}");
        assert!(message.contains(&format!("today.csv:{place}\n")), "no {place} in\n{message}");
        for part in says {
            assert!(message.contains(part), "no `{part}` in\n{message}");
        }
    }
}

#[test]
fn several_mistakes_are_told_at_once_ten_at_the_most() {
    let line = "nowhere,0,much\n";
    let refusal = locate(format!("at,mhz,dbmv\n{}", line.repeat(2)).as_bytes()).expect_err("three mistakes a line");
    assert_eq!(refusal.problems().len(), 6);
    let refusal = locate(format!("at,mhz,dbmv\n{}", line.repeat(50)).as_bytes()).expect_err("too many");
    assert_eq!(refusal.problems().len(), 10);
    let refusal = locate(b"at,mhz,dbmv\nhall.1,57,\xff\n").expect_err("no text");
    assert!(refusal.render(false).contains("save the file as UTF-8"));
    let many = format!("at,mhz,dbmv\n{}", "hall.1,57,3\n".repeat(4097));
    assert!(locate(many.as_bytes()).expect_err("too many").render(false).contains("more than 4096 readings"));
    let all = format!("at,mhz,dbmv\n{}", "hall.1,57,3\n".repeat(4096));
    assert_eq!(locate(all.as_bytes()).expect("as many as may be")["readings"].as_array().map(Vec::len), Some(4096));
}

#[test]
fn however_a_spreadsheet_writes_it_the_readings_are_the_same() {
    let plain = locate(b"at,mhz,dbmv\n\"den, left\",57,6.5\nhall.2,861,-2\nlead-in,57,11\n").expect("readings");
    let ways: [&[u8]; 4] = [
        b"\xef\xbb\xbfAt,MHz,dBmV\r\n\"den, left\",57,6.5\r\nhall.2,861,-2\r\nlead-in,57,11",
        b"note,dbmv,at,by,mhz\n\"a \"\"b\"\", c\",6.5,\"den, left\",,57\n,-2,hall.2,x,861\n,11,lead-in,,57.0\nx,,nowhere,,\n",
        b"at , mhz , dbmv\n\n\"den, left\" , 57 MHz , 66.5 dBuV \n hall.2 , 0.861 GHz , -2dBmV\nlead-in,57000 kHz,11 dBmV\n,,\n",
        b"\"at\",\"mhz\",\"dbmv\"\n\"den, left\",\"57\",\"6.5\"\n\"hall.2\",\"861\",\"-2\",\"more\"\n\"lead-in\",\"57\",\"11\"\n",
    ];
    for text in ways {
        let found = locate(text).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
        assert_eq!(found, plain, "{}", String::from_utf8_lossy(text));
    }
    assert_eq!(plain["readings"].as_array().map(Vec::len), Some(3));
}

#[test]
fn one_frequency_at_the_entry_does_for_readings_at_that_one() {
    let found = locate(b"at,mhz,dbmv\nentry,57,9\nentry,57,11\nlead-in,57,9\n").expect("readings");
    let rows = found["readings"].as_array().expect("rows");
    // Those at the entry say what is expected, and are no rows themselves.
    assert_eq!(rows.len(), 1);
    let expected = rows[0]["expected_dbmv"].as_f64().expect("a level");
    // 60 ft of the built-in cable lose 0.95 dB at 57 MHz: see `legwork cable series-6 "60 ft" --at "57 MHz"`.
    assert!((8.9..9.2).contains(&expected), "{expected}");
    let found = locate(b"at,mhz,dbmv\nentry,57,9\nlead-in,57,9\nhall.1,57,3\n").expect("readings");
    assert_eq!(found["readings"].as_array().map(Vec::len), Some(2));
}
