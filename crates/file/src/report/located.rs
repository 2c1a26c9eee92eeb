//! What readings say of a home, as JSON.

use legwork::{NextReading, Occupant, Suspect};

use super::json::Json;
use crate::home::Home;
use crate::locate::{Compared, Located};

/// Writes suspects, readings and the next reading as one line of JSON, without an end of line.
pub(crate) fn write_located(out: &mut Vec<u8>, located: &Located<'_>) {
    let mut json = Json::new(out);
    json.text("{\"format\":1,\"name\":", located.home.name());
    json.put(",");
    verdict(&mut json, located);
    json.list(",\"readings\":", located.diagnosis.readings(), |json, reading| {
        json.text("{\"at\":", located.place(reading.number));
        json.number(",\"mhz\":", reading.read.frequency.mhz());
        json.number(",\"expected_dbmv\":", reading.expected.dbmv());
        json.number(",\"read_dbmv\":", reading.read.level.dbmv());
        json.put("}");
    });
    json.put("}");
}

/// Writes what changed from one visit to the next, likewise.
pub(crate) fn write_compared(out: &mut Vec<u8>, compared: &Compared<'_>) {
    let Compared { worse, better } = compared;
    let mut json = Json::new(out);
    json.text("{\"format\":1,\"name\":", worse.home.name());
    json.list(",\"entry\":", worse.diagnosis.entry().iter(), |json, point| {
        json.number("{\"mhz\":", point.frequency().mhz());
        json.number(",\"change_db\":", point.value());
        json.put("}");
    });
    json.list(",\"changes\":", worse.diagnosis.readings(), |json, reading| {
        json.text("{\"at\":", worse.place(reading.number));
        json.number(",\"mhz\":", reading.read.frequency.mhz());
        json.number(",\"expected_dbmv\":", reading.expected.dbmv());
        json.number(",\"read_dbmv\":", reading.read.level.dbmv());
        json.number(",\"change_db\":", reading.difference().db());
        json.put("}");
    });
    for (key, located) in [(",\"worse\":{", worse), (",\"better\":{", better)] {
        json.put(key);
        verdict(&mut json, located);
        json.put("}");
    }
    json.put("}");
}

/// Suspects, what they leave, and the next reading.
fn verdict(json: &mut Json<'_>, located: &Located<'_>) {
    let Located { home, diagnosis, .. } = located;
    json.list("\"suspects\":", diagnosis.suspects(), |json, one| suspect(json, home, &one));
    json.number(",\"unexplained_db\":", diagnosis.unexplained());
    match diagnosis.next_reading() {
        Some(reading) => next(json, home, reading),
        None => json.put(",\"next_reading\":null"),
    }
}

fn suspect(json: &mut Json<'_>, home: &Home<'_>, suspect: &Suspect<'_>) {
    json.texts("{\"parts\":", suspect.parts().map(|part| home.part(part)));
    json.number(",\"excess\":{\"a\":", suspect.excess.flat);
    json.number(",\"b\":", suspect.excess.rising);
    json.number(",\"c\":", suspect.excess.falling);
    json.number("},\"weight\":", suspect.weight);
    json.put("}");
}

fn next(json: &mut Json<'_>, home: &Home<'_>, next: NextReading) {
    let (front, way) = home.port_parts(next.port);
    json.dotted(",\"next_reading\":{\"at\":", front, way);
    json.number(",\"mhz\":", next.frequency.mhz());
    match home.tree().occupant(next.port) {
        Some(Occupant::Outlet(outlet)) => json.text(",\"outlet\":", home.outlet(outlet)),
        _ => json.put(",\"outlet\":null"),
    }
    json.number(",\"gain_nats\":", next.gain);
    json.put("}");
}
