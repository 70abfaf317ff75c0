//! Work for many trees, shared among the cores, in the trees' order.

/// From so many trees on, more than one core is set to work (own choice: below, a thread costs more than it saves).
const MANY: usize = 64;

/// Works out something for each place of a list, many of them on all cores, and keeps the order.
pub(in crate::cli) fn on_all_cores<T: Send>(
    count: usize,
    of: &(dyn Fn(usize) -> Option<T> + Sync),
) -> Vec<T> {
    let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    if count < MANY || cores < 2 {
        return (0..count).filter_map(of).collect();
    }
    let share = count.div_ceil(cores);
    std::thread::scope(|scope| {
        let parts: Vec<_> = (0..cores)
            .map(|core| {
                let from = core.saturating_mul(share).min(count);
                let to = from.saturating_add(share).min(count);
                scope.spawn(move || (from..to).filter_map(of).collect::<Vec<T>>())
            })
            .collect();
        parts
            .into_iter()
            .flat_map(|part| {
                part.join()
                    .unwrap_or_else(|panic| std::panic::resume_unwind(panic))
            })
            .collect()
    })
}
