// Lengths as the program prints them: tenths of a millimetre or hundredths of an inch, sixteenths beside them, uncertainties rounded up.
// The same rules as the library's UnitsText; a test holds both together.

const MM_PER_INCH = 25.4;

/** Rounds half away from zero. */
function rounded(value, decimals) {
  const scale = 10 ** decimals;
  const scaled = Math.abs(value) * scale;
  const whole = Math.trunc(scaled);
  const result = (scaled - whole >= 0.5 ? whole + 1 : whole) / scale;
  return (value < 0 && result > 0 ? -result : result).toFixed(decimals);
}

/** A length without its unit: "27.1" or "1.07". @param {number} mm @param {'mm'|'in'} units */
export function bare(mm, units) {
  return units === 'mm' ? rounded(mm, 1) : rounded(mm / MM_PER_INCH, 2);
}

/** What follows ±, never smaller than it is. */
export function within(mm, units) {
  const last = units === 'mm' ? 0.1 : 0.01 * MM_PER_INCH;
  return bare(Math.ceil(mm / last - 1e-9) * last, units);
}

/** "27.1 ±0.6" */
export function withUncertainty(mm, uncertaintyMm, units) {
  return `${bare(mm, units)} ±${within(uncertaintyMm, units)}`;
}

/** "402.0 mm" or "15.83 in". */
export function length(mm, units) {
  return `${bare(mm, units)} ${units}`;
}

/** Inches to the nearest sixteenth, in lowest terms: "15 13/16 in". */
export function sixteenths(mm) {
  const exact = Math.abs(mm) / MM_PER_INCH * 16;
  const all = exact - Math.trunc(exact) >= 0.5 ? Math.trunc(exact) + 1 : Math.trunc(exact);
  const sign = mm < 0 && all > 0 ? '-' : '';
  const whole = Math.trunc(all / 16), part = all % 16;
  if (part === 0) return `${sign}${whole} in`;
  const divisor = part % 8 === 0 ? 8 : part % 4 === 0 ? 4 : part % 2 === 0 ? 2 : 1;
  const fraction = `${part / divisor}/${16 / divisor}`;
  return whole === 0 ? `${sign}${fraction} in` : `${sign}${whole} ${fraction} in`;
}

/** A station: "402.0 mm", or in inches "15 13/16 in". */
export function station(mm, units) {
  return units === 'mm' ? length(mm, units) : sixteenths(mm);
}

/** What a guide is called in the table and on the marks. */
export function guideName(guide) {
  return guide.kind === 'tip' ? 'Tip' : String(guide.index);
}

/** "5 to 6", "7 to tip". */
export function pairName(doc, pair) {
  const to = doc.guides[pair.to - 1];
  return `${pair.from} to ${to.kind === 'tip' ? 'tip' : pair.to}`;
}
