/** Line plots side by side as SVG: time on a common logarithmic scale, colours of Okabe & Ito (2008), each line with its own mark too. */
export interface Curve {
  readonly name: string
  readonly points: readonly { readonly x: number; readonly y: number }[]
}

export interface Panel {
  readonly title: string
  readonly curves: readonly Curve[]
}

const COLOURS = ['#0072B2', '#D55E00', '#009E73', '#CC79A7']
const DASHES = ['none', '6 3', '2 3', '8 3 2 3']
const WIDTH = 300
const HEIGHT = 240
const LEFT = 58
const TOP = 44
const GAP = 34
const FLOOR = 1

const words = (s: string): string => s.replace(/&/g, '&amp;').replace(/</g, '&lt;')
const time = (v: number): string => (v < 1000 ? `${v} ms` : `${v / 1000} s`)

/** `limit` (ms): where runs were cut, drawn as a line. Times in ms; whatever is under 1 ms is drawn there. */
export function plot(panels: readonly Panel[], limit: number): string {
  const top = Math.max(limit, ...panels.flatMap((p) => p.curves.flatMap((c) => c.points.map((q) => q.y))))
  const decades = Math.max(1, Math.ceil(Math.log10(top / FLOOR)))
  const y = (v: number): number => TOP + HEIGHT * (1 - Math.log10(Math.max(v, FLOOR) / FLOOR) / decades)
  const all = LEFT + panels.length * (WIDTH + GAP)
  const out = [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${all}" height="${TOP + HEIGHT + 74}" viewBox="0 0 ${all} ${TOP + HEIGHT + 74}" font-family="sans-serif" font-size="12">`,
    '<title>How cost grows with items, grid and decks</title>',
    `<rect width="100%" height="100%" fill="#ffffff"/>`,
  ]
  panels.forEach((panel, k) => {
    const x0 = LEFT + k * (WIDTH + GAP)
    const xs = [...new Set(panel.curves.flatMap((c) => c.points.map((q) => q.x)))].sort((a, b) => a - b)
    const [lo, hi] = [xs[0] ?? 0, xs.at(-1) ?? 1]
    const x = (v: number): number => x0 + 14 + ((WIDTH - 28) * (v - lo)) / (hi - lo || 1)
    for (let d = 0; d <= decades; d++) {
      const v = FLOOR * 10 ** d
      out.push(`<line x1="${x0}" x2="${x0 + WIDTH}" y1="${y(v).toFixed(1)}" y2="${y(v).toFixed(1)}" stroke="#cccccc"/>`)
      if (k === 0) out.push(`<text x="${x0 - 6}" y="${(y(v) + 4).toFixed(1)}" text-anchor="end">${time(v)}</text>`)
    }
    out.push(`<rect x="${x0}" y="${TOP}" width="${WIDTH}" height="${HEIGHT}" fill="none" stroke="#444444"/>`)
    const cut = y(limit).toFixed(1)
    out.push(`<line x1="${x0}" x2="${x0 + WIDTH}" y1="${cut}" y2="${cut}" stroke="#444444" stroke-dasharray="1 3"/>`)
    out.push(`<text x="${x0 + 6}" y="${(y(limit) + 14).toFixed(1)}" fill="#444444">cut at ${time(limit)}</text>`)
    for (const v of xs) {
      const at = x(v).toFixed(1)
      out.push(`<line x1="${at}" x2="${at}" y1="${TOP + HEIGHT}" y2="${TOP + HEIGHT + 5}" stroke="#444444"/>`)
      out.push(`<text x="${at}" y="${TOP + HEIGHT + 18}" text-anchor="middle">${v}</text>`)
    }
    out.push(`<text x="${x0 + WIDTH / 2}" y="${TOP + HEIGHT + 38}" text-anchor="middle">${words(panel.title)}</text>`)
    panel.curves.forEach((c, n) => {
      const colour = COLOURS[n % COLOURS.length]!
      const line = c.points.map((q) => `${x(q.x).toFixed(1)},${y(q.y).toFixed(1)}`).join(' ')
      out.push(
        `<polyline points="${line}" fill="none" stroke="${colour}" stroke-width="2" stroke-dasharray="${DASHES[n % DASHES.length]}"/>`,
      )
      for (const q of c.points) out.push(mark(n, x(q.x), y(q.y), colour))
    })
  })
  panels[0]?.curves.forEach((c, n) => {
    const at = LEFT + n * 180
    const colour = COLOURS[n % COLOURS.length]!
    out.push(
      `<line x1="${at}" x2="${at + 28}" y1="20" y2="20" stroke="${colour}" stroke-width="2" stroke-dasharray="${DASHES[n % DASHES.length]}"/>`,
      mark(n, at + 14, 20, colour),
      `<text x="${at + 34}" y="24">${words(c.name)}</text>`,
    )
  })
  return `${[...out, '</svg>'].join('\n')}\n`
}

/** Discs and squares in turn, so that lines differ without colour. */
const mark = (n: number, x: number, y: number, colour: string): string =>
  n % 2 === 0
    ? `<circle cx="${x.toFixed(1)}" cy="${y.toFixed(1)}" r="4" fill="${colour}"/>`
    : `<rect x="${(x - 4).toFixed(1)}" y="${(y - 4).toFixed(1)}" width="8" height="8" fill="${colour}"/>`
