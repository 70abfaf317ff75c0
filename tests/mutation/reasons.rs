//! Mutants that may live, each with the reason.

/// Name of the mutant, and why no expectation can tell it from the rule.
pub(crate) const MAY_LIVE: &[(&str, &str)] = &[
    (
        "caution chloride_burns: Hold",
        "the only material that states its chloride is potassium chloride, and unbalanced_alone stops that anyway",
    ),
    (
        "caution chloride_high: Care",
        "the only material that states its chloride is potassium chloride, and unbalanced_alone stops that anyway",
    ),
    (
        "caution epsom_at_rest: (product_kind is epsom_salt and (tree_stage is seedling or air_temperature < 18 or new_growth is no))",
        "it matters only where the kind of feed is not known; that is held by feed_unknown and by the stops that lack it, with the same words",
    ),
    (
        "caution epsom_in_deluge: (product_kind is epsom_salt and rain_pattern is heavy and place is outdoors)",
        "it matters only where the kind of feed is not known; that is held by feed_unknown and by the stops that lack it, with the same words",
    ),
    (
        "caution epsom_same_day: (also_in_can is epsom_salt or (epsom_lately is yes and not product_kind is epsom_salt) or (product_kind is epsom_salt and (also_in_can is other_feed/calcium_feed or days_since_feed < 1)))",
        "it matters only where the kind of feed is not known; that is held by feed_unknown and by the stops that lack it, with the same words",
    ),
    (
        "caution epsom_same_day: (also_in_can is epsom_salt or (epsom_lately is yes and not product_kind is epsom_salt) or (product_kind known and product_kind is epsom_salt and (also_in_can is other_feed/calcium_feed or days_since_feed < 0)))",
        "fed_lately shuts the tree gate for 14 days, so this clause is never the one that decides; it stands for local sets without that rule",
    ),
    (
        "caution epsom_same_day: (also_in_can is epsom_salt or (epsom_lately is yes and not product_kind is epsom_salt) or (product_kind known and product_kind is epsom_salt and (also_in_can is other_feed/calcium_feed or days_since_feed < 2)))",
        "fed_lately shuts the tree gate for 14 days, so this clause is never the one that decides; it stands for local sets without that rule",
    ),
    (
        "caution epsom_same_day: (also_in_can is epsom_salt or (epsom_lately is yes and not product_kind is epsom_salt) or (product_kind known and product_kind is epsom_salt and (also_in_can is other_feed/calcium_feed or days_since_feed <= 1)))",
        "fed_lately shuts the tree gate for 14 days, so this clause is never the one that decides; it stands for local sets without that rule",
    ),
    (
        "caution epsom_same_day: (also_in_can is epsom_salt or (epsom_lately is yes and not product_kind is epsom_salt) or (product_kind known and product_kind is epsom_salt and (also_in_can is other_feed/calcium_feed)))",
        "fed_lately shuts the tree gate for 14 days, so this clause is never the one that decides; it stands for local sets without that rule",
    ),
    (
        "caution notifiable_disease: (notifiable_signs has ringed_spots/lopsided_fruit/yellow_shoot/psyllid/unsure_but_like_it or finding greening_suspected is Possible or finding canker_suspected is Possible)",
        "the same sign puts greening_suspected or canker_suspected on the shortlist, which the rule reads too",
    ),
    (
        "caution notifiable_disease: (notifiable_signs has uneven_blotches/lopsided_fruit/yellow_shoot/psyllid/unsure_but_like_it or finding greening_suspected is Possible or finding canker_suspected is Possible)",
        "the same sign puts greening_suspected or canker_suspected on the shortlist, which the rule reads too",
    ),
    (
        "caution notifiable_disease: (notifiable_signs has uneven_blotches/ringed_spots/lopsided_fruit/psyllid/unsure_but_like_it or finding greening_suspected is Possible or finding canker_suspected is Possible)",
        "the same sign puts greening_suspected or canker_suspected on the shortlist, which the rule reads too",
    ),
    (
        "caution notifiable_disease: (notifiable_signs has uneven_blotches/ringed_spots/lopsided_fruit/yellow_shoot/psyllid or finding greening_suspected is Possible or finding canker_suspected is Possible)",
        "the same sign puts greening_suspected or canker_suspected on the shortlist, which the rule reads too",
    ),
    (
        "caution notifiable_disease: (notifiable_signs has uneven_blotches/ringed_spots/lopsided_fruit/yellow_shoot/unsure_but_like_it or finding greening_suspected is Possible or finding canker_suspected is Possible)",
        "the same sign puts greening_suspected or canker_suspected on the shortlist, which the rule reads too",
    ),
    (
        "caution notifiable_disease: (notifiable_signs has uneven_blotches/ringed_spots/yellow_shoot/psyllid/unsure_but_like_it or finding greening_suspected is Possible or finding canker_suspected is Possible)",
        "the same sign puts greening_suspected or canker_suspected on the shortlist, which the rule reads too",
    ),
    (
        "caution notifiable_disease: Hold",
        "the suspected finding stops by itself beside the rule; both are kept, since the rule names where to report",
    ),
    (
        "caution rain_washes_out: (rain_due is yes and place is outdoors and (ready_feed is yes or (product_kind is epsom_salt)))",
        "it matters only where the kind of feed is not known; that is held by feed_unknown and by the stops that lack it, with the same words",
    ),
    (
        "caution slow_before_cold: (frost_ahead is six_to_eight_weeks and place is outdoors/under_cover and (slow_feed is yes or (other_product_kind known and other_product_kind is organic_granular/coated)))",
        "within six weeks late_nitrogen shuts the tree gate wherever this rule would speak",
    ),
    (
        "caution water_alone_too_salty: (water_over_limit is yes and (ready_feed is yes or (product_kind is epsom_salt)))",
        "it matters only where the kind of feed is not known; that is held by feed_unknown and by the stops that lack it, with the same words",
    ),
    (
        "temperature edge 13: a tenth lower",
        "below 13 °C mix_cold holds whatever the factor is",
    ),
    (
        "temperature edge 15: a tenth higher",
        "the rows on both sides of 15 °C hold the same factors; the edge is kept because the source gives it",
    ),
    (
        "temperature edge 15: a tenth lower",
        "the rows on both sides of 15 °C hold the same factors; the edge is kept because the source gives it",
    ),
    (
        "temperature edge 15: the edge itself below",
        "the rows on both sides of 15 °C hold the same factors; the edge is kept because the source gives it",
    ),
    (
        "temperature edge 35: a tenth higher",
        "from 35 °C great_heat holds whatever the factor is",
    ),
    (
        "temperature edge 35: the edge itself below",
        "from 35 °C great_heat holds whatever the factor is",
    ),
    (
        "temperature row from -inf, growing: 0.5",
        "below 13 °C mix_cold holds whatever the factor is",
    ),
    (
        "temperature row from -inf, resting: 0.5",
        "below 13 °C mix_cold holds whatever the factor is",
    ),
    (
        "temperature row from 13, resting: 0.5",
        "below 18 °C a tree without new growth is held by cool_no_growth, one that was not looked at by its check",
    ),
    (
        "temperature row from 15, resting: 0.5",
        "below 18 °C a tree without new growth is held by cool_no_growth, one that was not looked at by its check",
    ),
    (
        "temperature row from 35, growing: 0.5",
        "from 35 °C great_heat holds whatever the factor is",
    ),
    (
        "temperature row from 35, resting: 0.5",
        "from 35 °C great_heat holds whatever the factor is",
    ),
];
