// A tried layout: the measured one with guides moved along the blank, added, taken off. Its figures within a frame, by the rules of the library's what-if
// (LayoutEdit, AddedRing, IntervalRule); the server confirms them, and a test holds both to the last printed digit.

import { measure } from '../geometry/interval.js';

/** Guides nearer to each other than this are no layout, mm (the library's WhatIf). */
export const LEAST_MM = 5;

/** @typedef {{moves: Map<number, number>, adds: number[], off: Set<number>}} Layout  by measured numbers; stations in mm from the tip */

/** From an address: "5@402.3,a512,x6". @returns {Layout} */
export function readLayout(text) {
  /** @type {Layout} */
  const layout = { moves: new Map(), adds: [], off: new Set() };
  for (const part of (text ?? '').split(',')) {
    const change = /^(?:(\d+)@([\d.]+)|a([\d.]+)|x(\d+))$/.exec(part);
    if (change?.[1]) layout.moves.set(Number(change[1]), Number(change[2]));
    else if (change?.[3]) layout.adds.push(Number(change[3]));
    else if (change?.[4]) layout.off.add(Number(change[4]));
  }
  return layout;
}

/** @param {Layout} layout */
export function writeLayout({ moves, adds, off }) {
  const number = mm => String(Number(mm.toFixed(4)));
  return [...[...moves].sort((a, b) => a[0] - b[0]).map(([guide, mm]) => `${guide}@${number(mm)}`), ...adds.map(mm => `a${number(mm)}`), ...[...off].sort((a, b) => a - b).map(g => `x${g}`)].join(',');
}

/** What the measurement gives: blank, map, rings as measured. @param {any} doc @param {any} blank @param {any} map @param {any[]} rings */
export function baseOf(doc, blank, map, rings) {
  return { doc, blank, map, rings, axisPx: doc.blank.axis.map(a => ({ x: a.x_px, y: a.y_px })) };
}

/**
 * The rings of a layout from the reel to the tip-top: which measured guide each is (`was`, from 1) or which added one (`add`, from 0).
 * @param {any} base @param {Layout} layout
 */
export function placed(base, { moves, adds, off }) {
  const { blank, doc, rings } = base, distance = ring => Math.abs(ring.height);
  const kept = rings.map((ring, i) => ({ was: i + 1, add: null, ring, stays: true })).filter(r => !off.has(r.was))
    .map(r => moves.has(r.was) && moves.get(r.was) !== r.ring.s ? { ...r, ring: blank.ringAt(moves.get(r.was), distance(r.ring), doc.side), stays: false } : r);
  const standing = kept.slice(0, -1).sort((a, b) => b.ring.s - a.ring.s), tip = kept[kept.length - 1];
  const like = mm => distance((standing.find(r => r.ring.s < mm) ?? standing[standing.length - 1] ?? tip).ring);
  const added = adds.map((mm, add) => ({ was: null, add, ring: blank.ringAt(mm, like(mm), doc.side), stays: false }));
  return [...kept, ...added].sort((a, b) => b.ring.s - a.ring.s);
}

/** Figures of a pair: the measured ones where both stay side by side, else worked out. */
export function pairFigures(base, a, b) {
  if (a.stays && b.stays && b.was === a.was + 1) {
    const m = base.doc.intervals[a.was - 1];
    return { gap: m.gap_mm, gapAt: m.gap_at_mm, bow: m.bow_mm, bowAt: m.bow_at_mm, clearance: m.clearance_mm };
  }
  return measure(base.blank, a.ring, b.ring);
}

/** Where the photo shows a ring. */
export function pxOf(base, part, near = null) {
  const measured = part.was ? base.doc.guides[part.was - 1].ring_px : null;
  if (part.stays) return { x: measured[0], y: measured[1] };
  const axis = base.doc.blank.axis, at = axis.find(a => a.s_mm >= part.ring.s) ?? axis[axis.length - 1];
  return base.map.toPx(part.ring.mm, near ?? { x: at.x_px, y: at.y_px });
}

/** What strip, table and photo draw of a layout that the server has not confirmed yet. */
export function trialState(base, layout) {
  const parts = placed(base, layout), last = parts.length - 1;
  const guides = parts.map((p, i) => ({ index: i + 1, kind: i === last ? 'tip' : 'guide', station_mm: p.ring.s, height_mm: Math.abs(p.ring.height), source: p.was ? base.doc.guides[p.was - 1].source : 'added', was: p.was }));
  const intervals = guides.slice(0, -1).map((_, i) => ({ from: i + 1, to: i + 2, gap_mm: 0, bow_mm: 0, gap_uncertainty_mm: 0, bow_uncertainty_mm: 0, touches_blank: false }));
  const figures = intervals.map((_, i) => pairFigures(base, parts[i], parts[i + 1]));
  figures.forEach((f, i) => Object.assign(intervals[i], { gap_mm: f.gap, bow_mm: f.bow }));
  return {
    doc: { ...base.doc, guides, intervals, suggestion: null }, blank: base.blank, map: base.map, parts, rings: parts.map(p => p.ring), ringsPx: parts.map(p => pxOf(base, p)), axisPx: base.axisPx, figures,
    live: new Set(figures.map((_, i) => i)), moved: new Set(guides.filter((_, i) => !parts[i].stays).map(g => g.index)),
    was: base.rings.filter((r, i) => !parts.some(p => p.was === i + 1 && p.stays)).map(r => r.s), placed: [], pins: [], worst: null,
    seen: g => g.was === null ? 'added' : parts[g.index - 1].stays ? (g.was === g.index || g.kind === 'tip' ? 'stays' : `stays (was ${g.was})`) : g.was === g.index ? 'moved' : `moved (was ${g.was})`,
  };
}

/** Takes in what the server says of the same layout: its figures stand. */
export function confirm(state, report) {
  const { guides, pairs, follows_worst: worst } = report.after;
  guides.forEach((g, i) => {
    Object.assign(state.doc.guides[i], { station_mm: g.station_mm, height_mm: g.height_mm, angle: g.line_angle_deg });
    state.ringsPx[i] = { x: g.ring_px[0], y: g.ring_px[1] };
  });
  state.figures = pairs.map(p => ({ gap: p.gap_mm, gapAt: p.gap_at_mm, bow: p.bow_mm, bowAt: p.bow_at_mm, clearance: p.clearance_mm }));
  state.doc.intervals = pairs.map(p => ({ from: p.from, to: p.to, gap_mm: p.gap_mm, bow_mm: p.bow_mm, gap_uncertainty_mm: p.gap_uncertainty_mm, bow_uncertainty_mm: p.bow_uncertainty_mm, touches_blank: p.touches_blank }));
  state.worst = worst?.from ?? null;
  state.live = new Set();
}

/** Where a guide may go: not past its neighbours, not off the blank. @param {any} state @param {number} i  from 0 */
export function within(state, i, mm) {
  const low = state.rings[i + 1].s + LEAST_MM, high = i > 0 ? state.rings[i - 1].s - LEAST_MM : state.blank.lengthMm - 1;
  return Math.min(Math.max(mm, low), Math.max(low, high));
}

/** The layout with one of its guides at another station. @param {Layout} layout @param {any} part @returns {Layout} */
export function withStation(layout, part, mm, measured) {
  const moves = new Map(layout.moves), adds = [...layout.adds];
  if (part.add !== null) adds[part.add] = mm;
  else if (mm === measured) moves.delete(part.was);
  else moves.set(part.was, mm);
  return { moves, adds, off: layout.off };
}

/** The layout with one of its guides less. @param {Layout} layout @param {any} part @returns {Layout} */
export function without(layout, part) {
  if (part.add !== null) return { ...layout, adds: layout.adds.filter((_, i) => i !== part.add) };
  const moves = new Map(layout.moves);
  moves.delete(part.was);
  return { moves, adds: layout.adds, off: new Set([...layout.off, part.was]) };
}

/** The measurement's own suggestion as a layout; null where it suggests nothing. */
export function suggested(doc) {
  const s = doc.suggestion;
  if (!s || (s.add_at_mm === null && s.moves.length === 0)) return null;
  return { moves: new Map(s.moves.map(m => [m.guide, m.to_mm])), adds: s.add_at_mm === null ? [] : [s.add_at_mm], off: new Set() };
}
