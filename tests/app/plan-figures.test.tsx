/** Figures over lines of the plan: the line is broken behind the whole of them. */
import { renderToStaticMarkup } from 'react-dom/server'
import { expect, it } from 'vitest'
import { Gaps } from '../../src/plan/distances.tsx'

it('a line does not show above a decimal point', () => {
  const upright = { side: 'front', item: 0, gap: 69_330, from: { x: 20_000, y: 0 }, to: { x: 20_000, y: 69_330 } }
  const drawn = renderToStaticMarkup(
    <Gaps distances={[upright as Parameters<typeof Gaps>[0]['distances'][number]]} scale={1} />,
  )
  const [, line, x, y, wide, high, text] =
    /(<path[^>]*>).*<rect class="line-break" x="([^"]*)" y="([^"]*)" width="([^"]*)" height="([^"]*)".*<text[^>]*>([^<]*)</.exec(
      drawn,
    ) ?? []
  expect([line?.startsWith('<path'), text]).toEqual([true, '69.33'])
  // from under its foot to over its figures, and as wide as they are, the line in its middle
  expect(Number(y)).toBeLessThan(-7)
  expect(Number(y) + Number(high)).toBeGreaterThan(0)
  expect(Number(wide)).toBeGreaterThan(25)
  expect(Number(x)).toBeCloseTo(-Number(wide) / 2)
})
