// A tried layout in a builder's words.

import { withUncertainty } from '../format.js';

const guides = (n, what) => `${n} ${n === 1 ? 'guide' : 'guides'} ${what}`;

/** What differs from the layout as measured. @param {import('./trial.js').Layout} layout */
export function summary({ moves, adds, off }, base) {
  const parts = [moves.size && guides(moves.size, 'moved'), adds.length && `${adds.length} added`, off.size && `${off.size} taken off`].filter(Boolean);
  return parts.length ? `Tried: ${parts.join(', ')}` : `As measured: ${base.doc.guides.length - 1} guides`;
}

/** "5 to 6", "7 to tip-top", of a judged layout. */
export function pairText(judged, pair) {
  return `${pair.from} to ${judged.guides[pair.to - 1].kind === 'tip' ? 'tip-top' : pair.to}`;
}

/** Which pair follows worst and by how much. */
export function worstText(judged, doc, units) {
  const worst = judged.follows_worst;
  if (!worst) return 'No running pairs';
  const tip = judged.guides[worst.to - 1].kind === 'tip', pair = tip ? `Guide ${worst.from} to tip-top follows` : `Guides ${worst.from} to ${worst.to} follow`;
  const figure = doc.side === 'outside' ? `least clearance ${withUncertainty(worst.clearance_mm, worst.gap_uncertainty_mm, units)}` : `bow ${withUncertainty(worst.bow_mm, worst.bow_uncertainty_mm, units)}`;
  return `${pair} worst: ${figure} ${units}`;
}
