//! The feature `serde`: the data of a report goes out under the names that reports print.

use legwork::{
    At, Case, Code, Device, Error, Figure, Finding, Frequency, Level, PartId, Place, PortId, Verdict, Way, quick,
};

fn json(value: &impl serde::Serialize) -> String {
    serde_json::to_string(value).unwrap()
}

#[test]
fn a_quantity_is_its_number() {
    assert_eq!(json(&Level::constant(-7.25)), "-7.25");
    assert_eq!(json(&Frequency::constant(57.0)), "57.0");
    assert_eq!(json(&PortId::ENTRY), "0");
}

#[test]
fn names_are_those_of_a_report() {
    for code in Code::ALL {
        assert_eq!(json(code), format!("\"{}\"", code.name()));
    }
    for verdict in [Verdict::Pass, Verdict::Marginal, Verdict::Fail] {
        assert_eq!(json(&verdict), format!("\"{}\"", verdict.name()));
    }
    for device in Device::WITH_LIMITS.iter().chain(&[Device::Unused]) {
        assert_eq!(json(device), format!("\"{}\"", device.name()));
    }
    assert_eq!(json(&Case::ALL), r#"["nominal","most","least"]"#);
    assert_eq!(json(&Place::Attic), r#""attic""#);
    assert_eq!(json(&Way::Output(2)), r#"{"output":2}"#);
}

#[test]
fn a_finding_holds_its_place_and_numbers() {
    let finding = Finding {
        code: Code::ForwardLow,
        verdict: Verdict::Fail,
        at: At::Port(PortId::ENTRY),
        other: None,
        mhz: Some(861.0),
        value: Some(-16.25),
        limit: Some(-15.0),
        unit: "dBmV",
    };
    let want = r#"{"code":"forward-low","verdict":"fail","at":{"port":0},"other":null,"mhz":861.0,"value":-16.25,"limit":-15.0,"unit":"dBmV"}"#;
    assert_eq!(json(&finding), want);
}

#[test]
fn every_other_kind_of_data_goes_out() {
    let figure = Figure { nominal: 1.0, low: 0.5, high: 1.5 };
    assert_eq!(json(&figure), r#"{"nominal":1.0,"low":0.5,"high":1.5}"#);
    let full = Error::Full { what: "parts", capacity: 8 };
    assert_eq!(json(&full), r#"{"full":{"what":"parts","capacity":8}}"#);
    assert_eq!(json(&Error::PortTaken), r#""port-taken""#);
    let three = quick::ChannelPlan::Standard.channel(3);
    assert_eq!(json(&three), r#"{"number":3,"low":60.0,"centre":63.0,"high":66.0}"#);
    fn goes_out<T: serde::Serialize>() {}
    goes_out::<PartId>();
    goes_out::<legwork::Feed>();
    goes_out::<legwork::OutletReport<'_>>();
    goes_out::<legwork::AmplifierReport>();
    goes_out::<legwork::DcReport>();
    goes_out::<legwork::LinkReport>();
    goes_out::<legwork::Occupant>();
    goes_out::<legwork::Band>();
    goes_out::<legwork::Split>();
    goes_out::<quick::Supplied>();
}
