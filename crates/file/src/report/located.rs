//! What readings say of a home, as JSON.

use legwork::{Occupant, Suspect};

use super::json::Json;
use crate::home::Home;
use crate::locate::Located;

/// Writes suspects, readings and the next reading as one line of JSON, without an end of line.
pub(crate) fn write_located(out: &mut Vec<u8>, located: &Located<'_>) {
    let Located { home, diagnosis, .. } = located;
    let mut json = Json::new(out);
    json.text("{\"format\":1,\"name\":", home.name());
    json.list(",\"suspects\":", diagnosis.suspects(), |json, one| suspect(json, home, &one));
    json.number(",\"unexplained_db\":", diagnosis.unexplained());
    json.list(",\"readings\":", diagnosis.readings(), |json, reading| {
        json.text("{\"at\":", located.place(reading.number));
        json.number(",\"mhz\":", reading.read.frequency.mhz());
        json.number(",\"expected_dbmv\":", reading.expected.dbmv());
        json.number(",\"read_dbmv\":", reading.read.level.dbmv());
        json.put("}");
    });
    let Some(next) = diagnosis.next_reading() else { return json.put(",\"next_reading\":null}") };
    let (front, way) = home.port_parts(next.port);
    json.dotted(",\"next_reading\":{\"at\":", front, way);
    json.number(",\"mhz\":", next.frequency.mhz());
    match home.tree().occupant(next.port) {
        Some(Occupant::Outlet(outlet)) => json.text(",\"outlet\":", home.outlet(outlet)),
        _ => json.put(",\"outlet\":null"),
    }
    json.number(",\"gain_nats\":", next.gain);
    json.put("}}");
}

fn suspect(json: &mut Json<'_>, home: &Home<'_>, suspect: &Suspect<'_>) {
    json.texts("{\"parts\":", suspect.parts().map(|part| home.part(part)));
    json.number(",\"excess\":{\"a\":", suspect.excess.flat);
    json.number(",\"b\":", suspect.excess.rising);
    json.number(",\"c\":", suspect.excess.falling);
    json.number("},\"weight\":", suspect.weight);
    json.put("}");
}
