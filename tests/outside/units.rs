//! Units and oxide factors, read through the doors by which a grower's words come in.

use super::near;
use tubgrove::quantity::{
    Grade, GradeBasis, Interval, LabelRate, Measure, Per, SpoonSystem, TemperatureUnit, VolumeUnit,
    parse_length, parse_temperature, parse_volume,
};

#[test]
fn oxides_and_elements() {
    // Virginia Tech SPES-201 (Reiter): P2O5 → P 0.4365, K2O → K 0.8301; the fertilizer association's table 0.4364 and 0.8302.
    let oxide = Grade::parse("20-10-10", GradeBasis::Oxide).unwrap();
    near(oxide.p() / 10.0, 0.4365, 1e-4);
    near(oxide.p() / 10.0, 0.4364, 1e-4);
    near(oxide.k() / 10.0, 0.8301, 1e-4);
    near(oxide.k() / 10.0, 0.8302, 1e-4);
    // CIAAW 2021 weights (P 30.973762, K 39.0983, O 15.999), worked out here.
    let (p, k, o) = (30.973_761_998, 39.0983, 15.999);
    near(oxide.p() / 10.0, 2.0 * p / (2.0 * p + 5.0 * o), 1e-5);
    near(oxide.k() / 10.0, 2.0 * k / (2.0 * k + o), 1e-5);
    // Virginia Tech: 49.8 % of potassium is 60 % of K2O.
    let element = Grade::parse("0-0-49.8", GradeBasis::Element).unwrap();
    near(element.k2o(), 60.0, 0.05);
    // An Australian 10-4-8 is about 10-9.2-9.6 in oxides.
    let australian = Grade::parse("10-4-8", GradeBasis::Element).unwrap();
    near(australian.p2o5(), 9.2, 0.05);
    near(australian.k2o(), 9.6, 0.05);
    near(australian.n(), 10.0, 1e-12);
}

#[test]
fn masses_and_volumes() {
    // UCUM, `ucum-essence.xml`, and NIST Handbook 44, Appendix C: exact by definition.
    let grams = |text: &str| {
        Measure::parse(text)
            .unwrap()
            .grams(Interval::point(1.0), SpoonSystem::Us)
            .exact()
            .unwrap()
    };
    near(grams("1 lb"), 453.592_37, 1e-9);
    near(grams("1 oz"), 28.349_523_125, 1e-9);
    near(grams("16 oz"), grams("1 lb"), 1e-9);
    let ml = |text: &str, system| Measure::parse(text).unwrap().millilitres(system).unwrap();
    near(ml("1 tbsp", SpoonSystem::Us), 14.786_764_781_25, 1e-9);
    near(ml("1 tsp", SpoonSystem::Us), 4.928_921_593_75, 1e-9);
    near(ml("1 cup", SpoonSystem::Us), 236.588_236_5, 1e-9);
    // Common practice: 15 mL metric, 20 mL in Australia, which is 35 % more than the US one.
    near(ml("1 tbsp", SpoonSystem::Metric), 15.0, 1e-12);
    near(
        ml("1 tbsp", SpoonSystem::Australian) / ml("1 tbsp", SpoonSystem::Us),
        1.35,
        0.005,
    );
    let litres = |text: &str| {
        parse_volume(text, Some(VolumeUnit::Litre))
            .unwrap()
            .exact()
            .unwrap()
    };
    near(litres("1 gal"), 3.785_411_784, 1e-9);
    near(litres("1 imperial gallon"), 4.546_09, 1e-9);
    near(litres("1 cubic foot"), 28.316_846_592, 1e-9);
    let cm = |text: &str| parse_length(text, None).unwrap().exact().unwrap();
    near(cm("1 in"), 2.54, 1e-12);
    near(cm("1 ft"), 30.48, 1e-12);
    let celsius = |text: &str| {
        parse_temperature(text, Some(TemperatureUnit::Celsius))
            .unwrap()
            .exact()
            .unwrap()
    };
    near(celsius("65 F"), 18.333, 0.001);
    near(celsius("85 F"), 29.444, 0.001);
}

#[test]
fn nursery_classes_are_no_gallons() {
    // ANSI Z60.1 classes (memory), cross-checked with three papers: #7 21.9 to 29.3 L (Pitton et al., Horticulturae 2023),
    // #3 about 11.3 L (HortScience 33:593c), #1 about 2.8 L (HortScience 59:1477). A #5 is 12.9 to 20.4 L, not 18.9.
    let class = |text: &str| parse_volume(text, None).unwrap();
    near(class("#7").lo(), 21.9, 0.05);
    near(class("#7").hi(), 29.3, 0.05);
    assert!(class("#3").contains(11.3) && class("#1").contains(2.8));
    near(class("#5").lo(), 12.9, 0.05);
    near(class("#5").hi(), 20.4, 0.05);
}

#[test]
fn an_ounce_to_a_hundred_gallons() {
    // Texas A&M's greenhouse manual and UMass Extension print 75 mg/L for an ounce in 100 US gallons; 74.8915 exactly.
    let rate = LabelRate::parse("1 oz per 100 gal").unwrap();
    let (Measure::Grams(grams), Per::LitresOfWater(litres)) = (rate.amount, rate.per) else {
        panic!("{rate:?}");
    };
    near(grams / litres * 1000.0, 74.8915, 1e-4);
    near(grams / litres * 1000.0, 75.0, 0.11);
}
