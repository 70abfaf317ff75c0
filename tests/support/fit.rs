//! What a look at a fit tree shows on a fine day. Tests add pot, place and feed, or change one.

/// What a look at a fit tree shows, and that nothing stands in the way of a feed today.
pub(crate) const FIT: [(&str, &str); 14] = [
    ("mix_moisture", "moist"),
    ("salt_crust", "no"),
    ("drainage", "free"),
    ("sour_smell", "no"),
    ("water_runs_through", "no"),
    ("wilting_now", "no"),
    ("new_growth", "yes"),
    ("pot_fit", "fits"),
    ("notifiable_signs", "none"),
    ("cold_event", "none"),
    ("heat_now", "no"),
    ("rain_due", "no"),
    ("also_in_can", "nothing"),
    ("slow_feed_at_work", "none"),
];
