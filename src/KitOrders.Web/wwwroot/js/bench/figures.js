// @ts-check
// How numbers, units and times are written. Pure, but for the zone of the tablet.

const NM_PER_LBF_IN = 0.45359237 * 9.80665 * 0.0254;

/** @type {{is: RegExp, other: string, to: (v: number) => number}[]} */
const PAIRS = [
  { is: /^n[·.\s]?m$/i, other: "lbf·ft", to: v => v / (NM_PER_LBF_IN * 12) },
  { is: /^(lbf?[·.\s-]?ft|ft[·.\s-]?lbf?)$/i, other: "N·m", to: v => v * NM_PER_LBF_IN * 12 },
  { is: /^(lbf?[·.\s-]?in|in[·.\s-]?lbf?)$/i, other: "N·m", to: v => v * NM_PER_LBF_IN },
  { is: /^bar$/i, other: "psi", to: v => v * 1e5 / (0.45359237 * 9.80665 / 0.0254 ** 2) },
  { is: /^psi$/i, other: "bar", to: v => v * (0.45359237 * 9.80665 / 0.0254 ** 2) / 1e5 },
  { is: /^°?c$/i, other: "°F", to: v => v * 9 / 5 + 32 },
  { is: /^°?f$/i, other: "°C", to: v => (v - 32) * 5 / 9 },
  { is: /^mm$/i, other: "in", to: v => v / 25.4 },
];

/** "6.9 lbf·ft" beside 9.4 N·m; null where the unit has no other. @param {number} value @param {string|null} unit */
export function inOtherUnit(value, unit) {
  const pair = PAIRS.find(p => p.is.test((unit ?? "").trim()));
  return pair ? `${brief(pair.to(value))} ${pair.other}` : null;
}

/**
 * A result in the unit of its step: torque is kept in N·m whatever it was read in.
 * @param {{value?: number|null, unit?: string|null}} result @param {{unit: string|null}} step
 */
export function inUnit(result, step) {
  const value = result.value ?? 0;
  const per = (/** @type {string|null|undefined} */ unit) => PAIRS[0].is.test(unit ?? "") ? 1 : PAIRS[1].is.test(unit ?? "") ? NM_PER_LBF_IN * 12 : PAIRS[2].is.test(unit ?? "") ? NM_PER_LBF_IN : null;
  const from = per(result.unit), to = per(step.unit);
  return from && to && from !== to ? Number((value * from / to).toPrecision(4)) : value;
}

/** Three figures, no trailing dust. @param {number} value */
export const brief = value => figure(Number(value.toPrecision(Math.abs(value) >= 100 ? 4 : Math.abs(value) >= 10 ? 3 : 2)));

/** 1,250.5: as many decimals as the value holds, at most four. @param {number} value */
export const figure = value => value.toLocaleString("en", { maximumFractionDigits: 4 });

/** "9.4 N·m". @param {number|null|undefined} value @param {string|null|undefined} unit */
export const withUnit = (value, unit) => value == null ? "–" : unit ? `${figure(value)} ${unit}` : figure(value);

/** "3.8 to 4.4 N·m", "at most 4.4 N·m". @param {{low: number|null, high: number|null}} l @param {string|null} unit */
export function span({ low, high }, unit) {
  if (low != null && high != null) return `${figure(low)} to ${withUnit(high, unit)}`;
  return low != null ? `at least ${withUnit(low, unit)}` : high != null ? `at most ${withUnit(high, unit)}` : "no limits given";
}

/** "10:42", with the day when it is another. @param {string|number} at @param {number} now */
export function clock(at, now) {
  const then = new Date(at);
  const time = then.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  return then.toDateString() === new Date(now).toDateString() ? time
    : `${then.toLocaleDateString("en-GB", { weekday: "short", day: "numeric", month: "long" })}, ${time}`;
}

/** "Thu 11 March". @param {string} date YYYY-MM-DD */
export const day = date => new Date(`${date}T00:00`).toLocaleDateString("en-GB", { weekday: "short", day: "numeric", month: "long" }).replace(",", "");

/** "1 line", "3 lines". @param {number} count @param {string} one @param {string} [many] */
export const count = (count, one, many) => count === 1 ? `1 ${one}` : `${figure(count)} ${many ?? one + "s"}`;

/** Torque as a person would set it: never more decimals than the target is given with, at least one. @param {number} value */
export const setting = value => value.toLocaleString("en", { minimumFractionDigits: 1, maximumFractionDigits: Math.abs(value) < 10 ? 2 : 1 });
