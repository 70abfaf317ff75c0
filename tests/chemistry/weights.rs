//! Atomic weights, oxide factors and shares against printed tables.

use crate::{near, within};
use tubgrove::chemistry::Salt;
use tubgrove::chemistry::weights::{
    CA_IN_CAO, Element, Formula, K_IN_K2O, MG_IN_MGO, NA_IN_NA2O, P_IN_P2O5, S_IN_SO3,
};

#[test]
fn weights_lie_in_the_printed_intervals() {
    // CIAAW, Standard Atomic Weights 2021 (ciaaw.org): intervals.
    for (element, low, high) in [
        (Element::H, 1.00784, 1.00811),
        (Element::B, 10.806, 10.821),
        (Element::C, 12.0096, 12.0116),
        (Element::N, 14.00643, 14.00728),
        (Element::O, 15.99903, 15.99977),
        (Element::Mg, 24.304, 24.307),
        (Element::S, 32.059, 32.076),
        (Element::Cl, 35.446, 35.457),
    ] {
        // Oxygen's conventional 15.999 is the lower end of its interval, rounded.
        let weight = element.weight();
        assert!(
            (low - 5e-5..=high + 5e-5).contains(&weight),
            "{element:?} {weight}"
        );
    }
    // The same source: single values.
    for (element, want) in [
        (Element::Na, 22.98976928),
        (Element::P, 30.973761998),
        (Element::K, 39.0983),
        (Element::Ca, 40.078),
        (Element::Mn, 54.938043),
        (Element::Fe, 55.845),
        (Element::Cu, 63.546),
        (Element::Zn, 65.38),
        (Element::Mo, 95.95),
    ] {
        near(5e-4, &format!("{element:?}"), element.weight(), want);
    }
}

#[test]
fn oxide_factors_as_printed() {
    // Virginia Tech SPES-201 and an IFA/SGS page; allow 0.05 % between sources.
    within(0.05, "P2O5 to P", P_IN_P2O5, 0.4365);
    within(0.05, "P to P2O5", 1.0 / P_IN_P2O5, 2.2910);
    within(0.05, "P2O5 to P, IFA", P_IN_P2O5, 0.4364);
    within(0.05, "K2O to K", K_IN_K2O, 0.8301);
    within(0.05, "K to K2O", 1.0 / K_IN_K2O, 1.2051);
    within(0.05, "K to K2O, IFA", 1.0 / K_IN_K2O, 1.2046);
    within(0.05, "MgO to Mg", MG_IN_MGO, 0.6032);
    within(0.05, "CaO to Ca", CA_IN_CAO, 0.7147);
    // Regulation (EU) 2019/1009 factors, three digits, from memory.
    near(5e-4, "SO3 to S", S_IN_SO3, 0.400);
    near(5e-4, "Na2O to Na", NA_IN_NA2O, 0.742);
    // Virginia Tech's worked example: 49.8 % K is 60 % K2O.
    near(0.05, "49.8 % K", 49.8 / K_IN_K2O, 60.0);
}

#[test]
fn shares_of_salts_as_printed() {
    // Virginia Tech SPES-201.
    let kcl = Salt::PotassiumChloride.formula();
    within(0.05, "K in KCl", kcl.share(Element::K), 0.5244);
    within(0.05, "Cl in KCl", kcl.share(Element::Cl), 0.4756);
    let sulfate = Salt::PotassiumSulfate.formula();
    within(0.05, "K in K2SO4", sulfate.share(Element::K), 0.4487);
    within(0.05, "S in K2SO4", sulfate.share(Element::S), 0.1840);
    const DRY_MAGNESIUM_SULFATE: Formula =
        Formula(&[(Element::Mg, 1.0), (Element::S, 1.0), (Element::O, 4.0)]);
    within(
        0.05,
        "Mg in dry MgSO4",
        DRY_MAGNESIUM_SULFATE.share(Element::Mg),
        0.2020,
    );
}

#[test]
fn shares_of_salts_by_hand() {
    // Worked by hand from the CIAAW 2021 weights, per cent.
    let percent = |salt: Salt, element| 100.0 * salt.formula().share(element);
    for (salt, element, want) in [
        (Salt::Urea, Element::N, 46.65),
        (Salt::AmmoniumNitrate, Element::N, 35.00),
        (Salt::AmmoniumSulfate, Element::N, 21.20),
        (Salt::AmmoniumSulfate, Element::S, 24.26),
        (Salt::PotassiumNitrate, Element::N, 13.85),
        (Salt::PotassiumNitrate, Element::K, 38.67),
        (Salt::CalciumNitrateTetrahydrate, Element::N, 11.86),
        (Salt::CalciumNitrateTetrahydrate, Element::Ca, 16.97),
        (Salt::PotassiumChloride, Element::K, 52.45),
        (Salt::PotassiumChloride, Element::Cl, 47.55),
        (Salt::PotassiumSulfate, Element::K, 44.88),
        (Salt::PotassiumSulfate, Element::S, 18.40),
        (Salt::MonoammoniumPhosphate, Element::N, 12.18),
        (Salt::MonoammoniumPhosphate, Element::P, 26.93),
        (Salt::DiammoniumPhosphate, Element::N, 21.21),
        (Salt::MonopotassiumPhosphate, Element::P, 22.76),
        (Salt::MonopotassiumPhosphate, Element::K, 28.73),
        (Salt::EpsomSalt, Element::Mg, 9.861),
        (Salt::EpsomSalt, Element::S, 13.01),
        (Salt::MagnesiumNitrateHexahydrate, Element::N, 10.93),
        (Salt::MagnesiumNitrateHexahydrate, Element::Mg, 9.48),
        (Salt::Gypsum, Element::Ca, 23.28),
        (Salt::Gypsum, Element::S, 18.62),
        (Salt::SodiumNitrate, Element::N, 16.48),
    ] {
        near(
            0.006,
            &format!("{element:?} in {}", salt.name()),
            percent(salt, element),
            want,
        );
    }
    for (salt, phosphate, potash) in [
        (Salt::MonoammoniumPhosphate, 61.70, 0.0),
        (Salt::DiammoniumPhosphate, 53.74, 0.0),
        (Salt::MonopotassiumPhosphate, 52.15, 34.61),
        (Salt::PotassiumNitrate, 0.0, 46.58),
        (Salt::PotassiumChloride, 0.0, 63.18),
        (Salt::PotassiumSulfate, 0.0, 54.06),
    ] {
        near(0.006, salt.name(), 100.0 * salt.phosphate(), phosphate);
        near(0.006, salt.name(), 100.0 * salt.potash(), potash);
    }
    for (salt, want) in [
        (Salt::PotassiumNitrate, 101.102),
        (Salt::CalciumNitrateTetrahydrate, 236.146),
        (Salt::EpsomSalt, 246.466),
        (Salt::MonopotassiumPhosphate, 136.084),
        (Salt::Urea, 60.056),
    ] {
        near(0.002, salt.name(), salt.formula().molar_mass(), want);
    }
}

#[test]
fn shares_of_trace_salts_by_hand() {
    use Element::{B, Cu, Fe, H, Mn, Na, O, S, Zn};
    // Worked by hand from the CIAAW 2021 weights, per cent.
    type Row = (Formula, Element, f64);
    const TRACE: [Row; 6] = [
        (
            Formula(&[(Fe, 1.0), (S, 1.0), (O, 11.0), (H, 14.0)]),
            Fe,
            20.09,
        ),
        (
            Formula(&[(Zn, 1.0), (S, 1.0), (O, 11.0), (H, 14.0)]),
            Zn,
            22.74,
        ),
        (
            Formula(&[(Mn, 1.0), (S, 1.0), (O, 5.0), (H, 2.0)]),
            Mn,
            32.51,
        ),
        (
            Formula(&[(Cu, 1.0), (S, 1.0), (O, 9.0), (H, 10.0)]),
            Cu,
            25.45,
        ),
        (Formula(&[(B, 1.0), (O, 3.0), (H, 3.0)]), B, 17.48),
        (
            Formula(&[(Na, 2.0), (B, 4.0), (O, 17.0), (H, 20.0)]),
            B,
            11.34,
        ),
    ];
    for (formula, element, want) in TRACE {
        near(
            0.006,
            &format!("{element:?}"),
            100.0 * formula.share(element),
            want,
        );
    }
}

#[test]
fn formula_and_ions_of_a_salt_say_the_same() {
    // Two separate lists in the code; by mass they must agree, and no salt may carry a net charge.
    for salt in Salt::ALL {
        let gram = salt.per_gram();
        assert!(gram.charge().abs() < 1e-9, "{} is charged", salt.name());
        let mass = |mmol: f64, element: Element| mmol * element.weight() / 1000.0;
        for (element, mmol) in [
            (Element::N, gram.nitrate + gram.ammonium + 2.0 * gram.urea),
            (Element::P, gram.phosphate()),
            (Element::K, gram.potassium),
            (Element::Na, gram.sodium),
            (Element::Ca, gram.calcium),
            (Element::Mg, gram.magnesium),
            (Element::S, gram.sulfate),
            (Element::Cl, gram.chloride),
            (Element::C, gram.bicarbonate + gram.carbonate + gram.urea),
        ] {
            near(
                1e-9,
                &format!("{element:?} in {}", salt.name()),
                mass(mmol, element),
                salt.formula().share(element),
            );
        }
    }
}

#[test]
fn grams_for_100_mg_of_nitrogen() {
    // By hand: 0.1 g ÷ share of N.
    for (salt, want) in [
        (Salt::Urea, 0.2144),
        (Salt::AmmoniumSulfate, 0.4717),
        (Salt::PotassiumNitrate, 0.7218),
    ] {
        near(6e-5, salt.name(), 0.1 / salt.nitrogen(), want);
    }
}
