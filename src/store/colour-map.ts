/**
 * Amounts as colours by the map viridis: even steps to the eye, lightness growing all the way, and told apart with any of the
 * common colour deficiencies. N. J. Smith and S. van der Walt, "A better default colormap", SciPy 2015; table of 256 rows in
 * the public domain (CC0). Here every tenth part of it, straight between; tests hold other rows of the table against it.
 */
const ROWS: readonly (readonly [row: number, red: number, green: number, blue: number])[] = [
  [0, 0.267004, 0.004874, 0.329415],
  [25, 0.282623, 0.140926, 0.457517],
  [51, 0.253935, 0.265254, 0.529983],
  [76, 0.206756, 0.371758, 0.553117],
  [102, 0.163625, 0.471133, 0.558148],
  [128, 0.127568, 0.566949, 0.550556],
  [153, 0.134692, 0.658636, 0.517649],
  [179, 0.266941, 0.748751, 0.440573],
  [204, 0.477504, 0.821444, 0.318195],
  [230, 0.741388, 0.873449, 0.149561],
  [255, 0.993248, 0.906157, 0.143936],
]

/** Red, green and blue, 0 to 1, of a share from 0 to 1; beyond them the ends. */
export function shade(share: number): readonly [number, number, number] {
  const row = Math.min(1, Math.max(0, share)) * 255
  const next = ROWS.findIndex(([r]) => r >= row)
  const b = ROWS[next] ?? ROWS[ROWS.length - 1]!
  const a = ROWS[next - 1] ?? b
  const t = b[0] === a[0] ? 0 : (row - a[0]) / (b[0] - a[0])
  return [a[1] + (b[1] - a[1]) * t, a[2] + (b[2] - a[2]) * t, a[3] + (b[3] - a[3]) * t]
}

/** The same for a style. */
export const colourOf = (share: number): string =>
  `rgb(${shade(share)
    .map((c) => Math.round(c * 255))
    .join(' ')})`

/** The stops of a legend's bar, for a CSS gradient from left to right. */
export const gradient = (): string => `linear-gradient(to right, ${ROWS.map(([r]) => colourOf(r / 255)).join(', ')})`

/** A round number at or over the largest amount, for the end of a legend: 1, 2 or 5 times a power of ten. */
export function roundUp(most: number): number {
  if (!(most > 0)) return 1
  const ten = 10 ** Math.floor(Math.log10(most))
  const step = [1, 2, 5, 10].find((s) => s * ten >= most * (1 - 1e-9)) ?? 10
  return Number((step * ten).toPrecision(3))
}
