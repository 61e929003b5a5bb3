// A build's proofs by hand, the newest first: what readings by tape and caliper came to for each of its tests.

import { h } from '../dom.js';

const VERDICTS = { agree: 'Photo and hand agree', disagree: 'Photo and hand contradict each other', too_rough: 'Too rough to prove anything' };
const CAUSES = { print_scale: 'the cards\' print', card_off_plane: 'a card off the rod\'s plane', tip_place: 'the tip\'s place', guide_place: 'one guide\'s place', guide_count: 'a guide counted twice or passed over', slip_of_the_pen: 'a slip of the pen' };

/** @param {any} build @returns {Node[]} */
export function proofs(build) {
  const all = [...build.proofs].reverse();
  return [h('h2', { text: 'Proofs by hand' }), h('ul', { class: 'proofs' }, ...all.map((p, i) => {
    const test = build.tests.find(t => t.id === p.test), counts = all.findIndex(other => other.test === p.test) === i && !test?.set_aside;
    return h('li', {},
      h('span', { class: `state ${p.verdict === 'agree' ? '' : 'doubtful'}`, text: VERDICTS[p.verdict] }),
      h('strong', { text: `${p.at.slice(0, 16).replace('T', ' ')}${test?.label ? `, of ${test.label}` : ''}` }),
      h('span', { text: `${p.readings === 1 ? '1 reading' : `${p.readings} readings`}; chi-square ${p.chi_square.toFixed(1)}, largest E_n ${p.largest_en.toFixed(1)}${p.cause ? `; likeliest: ${CAUSES[p.cause] ?? p.cause}` : ''}` }),
      h('span', { class: 'quiet', text: `${p.camera}, cards ${p.cards}${counts ? '' : test?.set_aside ? '; its test is set aside, so it does not count' : '; a later proof of this test counts instead'}` }));
  }))];
}
