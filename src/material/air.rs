//! The moisture that wood comes to in a room's air.

/// Moisture (percent of dry weight) at which wood rests in air of `temperature_c` and
/// relative humidity `humidity_pct`, held between 0 and 100.
///
/// Source: Wood Handbook (FPL-GTR-282), equation 4-5 with its constants for degrees
/// Fahrenheit, from memory; it comes to weeks for a plank, so take the weather of the last
/// month and not of the day.
pub fn equilibrium_moisture(temperature_c: f64, humidity_pct: f64) -> f64 {
    let t = 1.8 * temperature_c + 32.0;
    let h = humidity_pct.clamp(0.0, 100.0) / 100.0;
    let w = 330.0 + 0.452 * t + 0.004_15 * t * t;
    let k = 0.791 + 4.63e-4 * t - 8.44e-7 * t * t;
    let k1 = 6.34 + 7.75e-4 * t - 9.35e-5 * t * t;
    let k2 = 1.09 + 2.84e-2 * t - 9.04e-5 * t * t;
    let kh = k * h;
    let more = k1 * kh + 2.0 * k1 * k2 * kh * kh;
    1800.0 / w * (kh / (1.0 - kh) + more / (1.0 + k1 * kh + k1 * k2 * kh * kh))
}
