/** For everyone: what axe finds, targets, reduced motion, small screens and fingers, over all views and dialogs, light and dark. */
import type { Browser, Locator } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { bricks, storeys } from './sample.ts'
import { closePages, plainBrowser, type Visit, violations, visit } from './visit.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

let browser: Browser
beforeAll(async () => {
  browser = await plainBrowser()
})
afterAll(() => closePages(browser))

/** Targets under 24 px either way (WCAG 2.2, 2.5.8), but for those in a line of text and those that are not to be seen. */
const smallTargets = (v: Visit): Promise<string[]> =>
  v.page.evaluate(() =>
    [
      ...document.querySelectorAll('button, select, summary, a[href], input, textarea, [role=button], [role=slider]'),
    ].flatMap((target) => {
      if (!target.checkVisibility({ visibilityProperty: true }) || target.closest('.unseen, svg')) return []
      const label = target.matches('[type=checkbox], [type=radio]') ? target.closest('label') : null
      const { width, height } = (label ?? target).getBoundingClientRect()
      const inSentence = target.matches('a')
      return !inSentence && (width < 23.9 || height < 23.9)
        ? [`${target.outerHTML.slice(0, 100)} ${width.toFixed(1)} × ${height.toFixed(1)}`]
        : []
    }),
  )

/** What is wider than its window, or cut off at its side with no way to scroll there. */
const cutOff = (v: Visit): Promise<string[]> =>
  v.page.evaluate(() => {
    const wide = document.documentElement.scrollWidth - innerWidth
    const found = wide > 0 ? [`the page is ${wide} px wider than its window`] : []
    for (const dialog of document.querySelectorAll('dialog[open]'))
      if (dialog.scrollWidth > dialog.clientWidth)
        found.push(`the dialog is ${dialog.scrollWidth - dialog.clientWidth} px wider than its room`)
    const scrolls = (element: Element): boolean => {
      for (let at: Element | null = element; at; at = at.parentElement)
        if (/auto|scroll/.test(getComputedStyle(at).overflowX) && at.scrollWidth > at.clientWidth) return true
      return false
    }
    for (const target of document.querySelectorAll('button, select, input, summary, h1, h2, h3, p')) {
      if (!target.checkVisibility({ visibilityProperty: true }) || target.closest('.unseen, svg')) continue
      const { left, right, width } = target.getBoundingClientRect()
      if (width > 0 && (left < -1 || right > innerWidth + 1) && !scrolls(target))
        found.push(`${target.outerHTML.slice(0, 100)} from ${left.toFixed(0)} to ${right.toFixed(0)}`)
    }
    return found
  })

/** What is higher than its box and shows over what comes after it. */
const spilt = (v: Visit): Promise<string[]> =>
  v.page.evaluate(() =>
    [...document.querySelectorAll('dialog[open] *')].flatMap((box) => {
      const { overflowY, display } = getComputedStyle(box)
      const holds = overflowY === 'visible' && /^(block|flex|grid)$/.test(display) && !box.closest('svg, .unseen')
      const over = box.scrollHeight - box.clientHeight
      return holds && box.clientHeight > 0 && over > 2 ? [`${box.className} by ${over} px`] : []
    }),
  )

/** Every view and dialog: how to come there, and how to leave it. */
const PLACES: readonly {
  readonly name: string
  /** Looked at by axe in `npm test` too; the others' own tests do so, or the long run. */
  readonly quick?: boolean
  /** Looked at on a phone too. */
  readonly phone?: boolean
  readonly go: (v: Visit) => Promise<Locator>
  readonly leave: (v: Visit) => Promise<void>
}[] = [
  {
    name: 'the stage',
    quick: true,
    go: async (v) => {
      await v.settled()
      return v.plan
    },
    leave: async () => {},
  },
  {
    name: 'an item held where it cannot stand',
    quick: true,
    go: async (v) => {
      await v.drag('left', -150, 0)
      await v.settled()
      return v.sheet.getByText(/^Nothing fits/).first()
    },
    leave: (v) => v.button('Undo').click(),
  },
  {
    name: 'an item being changed',
    quick: true,
    go: async (v) => {
      await v.button('Change middle').click()
      return v.page.getByRole('region', { name: /^What middle is/ })
    },
    leave: (v) => v.button('Change middle').click(),
  },
  {
    name: 'the search for parts',
    go: async (v) => {
      await v.button('Add a part…').click()
      await v.page.keyboard.type('breadboard')
      return v.page.getByRole('listbox', { name: 'Parts found' })
    },
    leave: (v) => v.page.keyboard.press('Escape'),
  },
  {
    name: 'the workbench of a part',
    go: async (v) => {
      await v.button('Add a part…').click()
      await v.button('Describe a new part…').click()
      return v.page.getByRole('dialog', { name: 'Describe a part' })
    },
    leave: (v) => v.page.keyboard.press('Escape'),
  },
  {
    name: 'the deck workshop',
    phone: true,
    go: async (v) => {
      await v.button('Deck…').click()
      return v.page.getByRole('dialog', { name: /^Decks/ })
    },
    leave: (v) => v.page.keyboard.press('Escape'),
  },
  {
    name: 'what differs in a variant, and a new name',
    phone: true,
    go: async (v) => {
      await v.button(/^Make it differ|^What differs/).click()
      await v.button('Rename…').click()
      return v.page.getByRole('form', { name: 'Change something' })
    },
    leave: async (v) => {
      await v.button('Rename…').click()
      await v.button(/^Make it differ|^What differs/).click()
    },
  },
  {
    name: 'layers and keys of the plan',
    go: async (v) => {
      await v.page.getByText('Shown…', { exact: true }).click()
      await v.button('Keys…').click()
      return v.page.getByRole('dialog', { name: 'Keys' })
    },
    leave: async (v) => {
      await v.page.keyboard.press('Escape')
      await v.page.getByText('Shown…', { exact: true }).click()
    },
  },
  {
    name: 'the files to make it from',
    go: async (v) => {
      await v.button('Files to make it from…').click()
      const dialog = v.page.getByRole('dialog', { name: /^Files to make/ })
      await dialog.locator('.previews[aria-busy=false]').waitFor()
      return dialog
    },
    leave: (v) => v.page.keyboard.press('Escape'),
  },
  {
    name: 'bringing in',
    go: async (v) => {
      await v.button('Bring it in…').click()
      return v.page.getByRole('dialog', { name: 'Bring in what is there' })
    },
    leave: (v) => v.page.keyboard.press('Escape'),
  },
  {
    name: 'the start view',
    quick: true,
    go: async (v) => {
      await v.page.getByRole('button', { name: 'Start view', exact: true }).click()
      return v.page.getByRole('heading', { name: 'What goes where on the deck?' })
    },
    leave: async () => {},
  },
]

describe('for everyone', () => {
  for (const colorScheme of LONG ? (['light', 'dark'] as const) : (['light'] as const))
    it(`every view and dialog at 1024 × 700, ${colorScheme}: no barriers, targets of 24 px, nothing cut off`, {
      timeout: 180_000,
    }, async () => {
      const v = await visit(browser, { demo: 'none', colorScheme, width: 1024, height: 700 })
      await v.page.emulateMedia({ colorScheme, reducedMotion: 'reduce' })
      v.page.setDefaultTimeout(15_000)
      // A name longer than a phone is wide.
      const name = 'as it lay on the table the evening before its first run'
      await v.open('bricks.json', { ...bricks, variants: [{ id: 'base', name }, { id: 'second' }] })
      const found: string[] = []
      for (const { name, quick, phone, go, leave } of PLACES) {
        await (await go(v)).waitFor()
        if (LONG || quick) found.push(...(await violations(v.page)).map((f) => `${name}: ${f}`))
        if (colorScheme === 'light') {
          found.push(...(await smallTargets(v)).map((f) => `${name}: ${f}`))
          found.push(...(await cutOff(v)).map((f) => `${name}: ${f}`))
        }
        if (phone) {
          await v.page.setViewportSize({ width: 360, height: 740 })
          found.push(...[...(await cutOff(v)), ...(await spilt(v))].map((f) => `${name}, on a phone: ${f}`))
          await v.page.setViewportSize({ width: 1024, height: 700 })
        }
        const moving = await v.page.evaluate(() => document.getAnimations().length)
        if (moving > 0) found.push(`${name}: ${moving} things move`)
        await leave(v)
      }
      expect(found).toEqual([])
      expect(v.errors).toEqual([])
      await v.context.close()
    })

  it('the plan is a list to be read out, its items with their places in words; fingers and narrow screens do', async () => {
    const v = await visit(browser, { demo: 'none', width: 820, height: 1180 })
    await v.open('storeys.json', storeys)
    await v.settled()
    const items = v.plan.getByRole('listitem').getByRole('button')
    const words = await items.evaluateAll((all) => all.map((e) => e.getAttribute('aria-label')))
    expect(
      words.filter((w) =>
        /^(left|middle|right), brick: (low|high) deck, .*\d+ mm from the left, \d+ mm from the back/.test(w ?? ''),
      ),
    ).toHaveLength(3)
    const touch = await v.context.newCDPSession(v.page)
    const send = (type: 'touchStart' | 'touchMove' | 'touchEnd', points: readonly (readonly [number, number])[]) =>
      touch.send('Input.dispatchTouchEvent', { type, touchPoints: points.map(([x, y], id) => ({ x, y, id })) })
    await v.item('left').scrollIntoViewIfNeeded()
    const near = await v.pixelsPerMm()
    const box = (await v.item('left').boundingBox())!
    const [x, y] = [box.x + 10, box.y + 10]
    await send('touchStart', [[x, y]])
    await send('touchMove', [[x + 10, y]])
    await send('touchMove', [[x + 20 * near, y - 20 * near]])
    await send('touchEnd', [])
    await v.settled()
    expect((await v.picture()).find((l) => l.startsWith('left'))).toMatch(/held here$/)
    const plan = (await v.plan.boundingBox())!
    const [cx, cy] = [plan.x + plan.width / 2, plan.y + plan.height / 2]
    await send('touchStart', [
      [cx - 30, cy],
      [cx + 30, cy],
    ])
    await send('touchMove', [
      [cx - 60, cy],
      [cx + 60, cy],
    ])
    await send('touchEnd', [])
    await expect.poll(v.pixelsPerMm).toBeGreaterThan(near * 1.5)
    for (const width of [820, 420]) {
      await v.page.setViewportSize({ width, height: 900 })
      await expect.poll(() => cutOff(v)).toEqual([])
    }
    expect(v.errors).toEqual([])
    await v.context.close()
  })
})
