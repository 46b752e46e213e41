//! The normal distribution to the last bit the same natively and in WebAssembly.
//!
//! The standard library's exp and ln come from the machine it runs on; here they come from the libm crate. Whatever is
//! sampled, or looked up among sampled values, uses these, so that the same seed prints the same report.

/// P(Z > `z`) for a standard normal variable.
pub fn normal_upper(z: f64) -> f64 {
    0.5 * libm::erfc(z * std::f64::consts::FRAC_1_SQRT_2)
}

/// Density of a standard normal variable at `z`.
pub fn normal_density(z: f64) -> f64 {
    // 1 / sqrt(2 pi)
    0.398_942_280_401_432_7 * libm::exp(-0.5 * z * z)
}

/// The value below which a standard normal variable lies with probability `lower`; `None` outside (0, 1).
pub fn normal_quantile(lower: f64) -> Option<f64> {
    (lower > 0.0 && lower < 1.0).then(|| normal_quantile_in_unit(lower))
}

/// The same for a probability known to lie inside (0, 1). Wichura 1988, algorithm AS 241 (PPND16): relative error
/// about 1e-16.
pub(super) fn normal_quantile_in_unit(lower: f64) -> f64 {
    let centred = lower - 0.5;
    if centred.abs() <= 0.425 {
        let r = 0.180625 - centred * centred;
        return centred * ratio(r, &CENTRE_TOP, &CENTRE_BOTTOM);
    }
    let tail = if centred < 0.0 { lower } else { 1.0 - lower };
    let r = libm::sqrt(-libm::log(tail));
    let z = if r <= 5.0 { ratio(r - 1.6, &MIDDLE_TOP, &MIDDLE_BOTTOM) } else { ratio(r - 5.0, &FAR_TOP, &FAR_BOTTOM) };
    if centred < 0.0 { -z } else { z }
}

fn ratio(x: f64, top: &[f64], bottom: &[f64]) -> f64 {
    let value = |coefficients: &[f64]| coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c);
    value(top) / value(bottom)
}

const CENTRE_TOP: [f64; 8] = [
    3.387_132_872_796_366_5,
    133.141_667_891_784_38,
    1_971.590_950_306_551_3,
    13_731.693_765_509_46,
    45_921.953_931_549_87,
    67_265.770_927_008_7,
    33_430.575_583_588_13,
    2_509.080_928_730_122_7,
];
const CENTRE_BOTTOM: [f64; 8] = [
    1.0,
    42.313_330_701_600_91,
    687.187_007_492_057_9,
    5_394.196_021_424_751,
    21_213.794_301_586_597,
    39_307.895_800_092_71,
    28_729.085_735_721_943,
    5_226.495_278_852_854,
];
const MIDDLE_TOP: [f64; 8] = [
    1.423_437_110_749_683_5,
    4.630_337_846_156_546,
    5.769_497_221_460_691,
    3.647_848_324_763_204_5,
    1.270_458_252_452_368_4,
    0.241_780_725_177_450_6,
    0.022_723_844_989_269_184,
    0.000_774_545_014_278_341_4,
];
const MIDDLE_BOTTOM: [f64; 8] = [
    1.0,
    2.053_191_626_637_759,
    1.676_384_830_183_803_8,
    0.689_767_334_985_1,
    0.148_103_976_427_480_08,
    0.015_198_666_563_616_457,
    0.000_547_593_808_499_534_5,
    1.050_750_071_644_416_9e-09,
];
const FAR_TOP: [f64; 8] = [
    6.657_904_643_501_103,
    5.463_784_911_164_114,
    1.784_826_539_917_291_3,
    0.296_560_571_828_504_87,
    0.026_532_189_526_576_124,
    0.001_242_660_947_388_078_4,
    2.711_555_568_743_487_6e-05,
    2.010_334_399_292_288_1e-07,
];
const FAR_BOTTOM: [f64; 8] = [
    1.0,
    0.599_832_206_555_888,
    0.136_929_880_922_735_8,
    0.014_875_361_290_850_615,
    0.000_786_869_131_145_613_3,
    1.846_318_317_510_054_8e-05,
    1.421_511_758_316_446e-07,
    2.044_263_103_389_939_7e-15,
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_to_the_last_digits() {
        // mpmath 1.3 at 30 digits: sqrt(2) * erfinv(2 p - 1).
        for (lower, expected) in
            [(0.975, 1.959_963_984_540_05), (0.5, 0.0), (1e-10, -6.361_340_902_404_06), (0.2, -0.841_621_233_572_914)]
        {
            let got = normal_quantile(lower).unwrap();
            assert!((got - expected).abs() < 1e-13, "{lower}: got {got}, expected {expected}");
        }
        assert_eq!(normal_quantile(0.0), None);
        assert_eq!(normal_quantile(f64::NAN), None);
    }

    #[test]
    fn tail_and_quantile_are_inverse() {
        for z in [-8.0, -3.0, -1.0, -0.1, 0.0, 0.4, 1.2, 2.0, 5.0] {
            let back = normal_quantile(normal_upper(-z)).unwrap();
            assert!((back - z).abs() < 2e-10, "{z}: {back}");
        }
    }
}
