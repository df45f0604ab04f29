//! Whether several loads can be there at once: exercises in turn need theirs side by side.

use super::stock::{Demand, Standing, Stock};
use crate::domain::units::Mass;

/// Why loads cannot be there at once.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Clash {
    /// They would go on the same handles or bar, with other plates.
    Carriers,
    /// There are not plates enough for all.
    Plates,
}

impl Stock {
    /// Whether all of these can be there at once.
    ///
    /// # Errors
    ///
    /// They cannot: what is missing.
    pub fn at_once(&self, demands: &[Demand]) -> Result<(), Clash> {
        let mut laying = Laying {
            stock: self,
            laid: vec![None; self.holders.len()],
            held: Mass::ZERO,
            why: Clash::Carriers,
        };
        if laying.all(demands) {
            Ok(())
        } else {
            Err(laying.why)
        }
    }
}

/// Loads being made side by side.
struct Laying<'s> {
    stock: &'s Stock,
    /// The plates of one end, from heavy to light, of each handle and bar in use.
    laid: Vec<Option<Vec<usize>>>,
    held: Mass,
    why: Clash,
}

impl Laying<'_> {
    fn all(&mut self, demands: &[Demand]) -> bool {
        let Some((demand, rest)) = demands.split_first() else {
            return true;
        };
        match *demand {
            Demand::Held(mass) => {
                let before = std::mem::replace(&mut self.held, mass);
                let done = self.fits() && self.all(rest);
                self.held = before;
                done
            }
            Demand::Loaded { on, count, end } => {
                let lots = self.stock.lots(on, count, end).lots;
                let of: Vec<usize> = self.stock.of(on).collect();
                lots.iter()
                    .any(|lot| self.lay((&of, usize::from(count)), &lot.beyond(&[]), rest))
            }
        }
    }

    /// Lays a stack on so many holders that are bare or carry just that, and all others after it.
    fn lay(&mut self, (of, count): (&[usize], usize), stack: &[usize], rest: &[Demand]) -> bool {
        let before = self.laid.clone();
        let free = of.iter().filter(|holder| {
            let laid = before.get(**holder).and_then(Option::as_deref);
            laid.is_none_or(|laid| laid == stack)
        });
        // Those that carry it already come first, and need no more plates: bare ones are filled in
        // order.
        let free: Vec<usize> = free.copied().collect();
        if free.len() < count {
            return false;
        }
        for holder in free.into_iter().take(count) {
            if let Some(laid) = self.laid.get_mut(holder) {
                *laid = Some(stack.to_vec());
            }
        }
        let done = self.fits() && self.all(rest);
        self.laid = before;
        done
    }

    fn fits(&mut self) -> bool {
        let laid = self
            .laid
            .iter()
            .map(|stack| stack.clone().unwrap_or_default());
        let fits = self
            .stock
            .missing(&Standing(laid.collect()), self.held)
            .is_none();
        if !fits {
            self.why = Clash::Plates;
        }
        fits
    }
}
