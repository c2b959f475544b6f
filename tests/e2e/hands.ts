/** Two ways to work the same page: with a pointer, and with nothing but keys. What is worked is told by role and visible name. */
import type { Locator, Page } from 'playwright-core'
import type { Visit } from './visit.ts'

export interface Hand {
  readonly name: string
  /** Presses a button, opens what folds, checks a box. */
  readonly press: (what: Locator) => Promise<void>
  /** Replaces what stands in a field, and hands it on. */
  readonly type: (field: Locator, text: string, end?: 'Tab' | 'Enter') => Promise<void>
  /** Chooses what is called so. */
  readonly choose: (list: Locator, option: string) => Promise<void>
  /** Puts an item a little elsewhere, where it is held. */
  readonly carry: (v: Visit, item: string) => Promise<void>
}

export const pointer = (page: Page): Hand => ({
  name: 'with a pointer',
  press: (what) => what.click(),
  type: async (field, text, end = 'Tab') => {
    await field.click()
    await field.fill(text)
    await page.keyboard.press(end)
  },
  choose: async (list, option) => {
    await list.selectOption({ label: option })
  },
  carry: (v, item) => v.drag(item, 9, -7),
})

/** Goes on with Tab, or back with Shift and Tab, until what is meant has the focus, as somebody does who cannot point. */
export async function reach(page: Page, what: Locator): Promise<void> {
  await what.waitFor()
  // Looked for once, not at every step; what was made anew meanwhile is looked for again.
  let it = await what.elementHandle()
  const where = async (): Promise<'here' | 'on' | 'back'> => {
    const seen = await it!.evaluate((element) => {
      const at = document.activeElement
      if (!element.isConnected) return 'gone'
      if (at === element) return 'here'
      return at && at.compareDocumentPosition(element) & Node.DOCUMENT_POSITION_PRECEDING ? 'back' : 'on'
    })
    if (seen !== 'gone') return seen
    it = await what.elementHandle()
    return where()
  }
  for (let k = 0; k < 400; k++) {
    const way = await where()
    if (way === 'here') return
    await page.keyboard.press(way === 'on' ? 'Tab' : 'Shift+Tab')
  }
  throw new Error(`${what} cannot be reached with Tab`)
}

/** What has the focus is there and can be worked with; where a number was handed on with Tab it is what comes next. */
async function kept(page: Page, did: string): Promise<void> {
  const at = (): Promise<string> =>
    page.evaluate(() => {
      const now = document.activeElement
      return !now || now === document.body || now.matches(':disabled') ? 'nothing' : now.tagName
    })
  // Whatever an edit makes anew is there a moment later.
  for (let k = 0; (await at()) === 'nothing'; k++) {
    if (k === 20) throw new Error(`${did}: the focus is lost`)
    await page.waitForTimeout(25)
  }
}

export const keys = (page: Page): Hand => ({
  name: 'by keyboard alone',
  press: async (what) => {
    await reach(page, what)
    // Boxes know only the space bar.
    await page.keyboard.press((await what.getAttribute('type')) === 'checkbox' ? 'Space' : 'Enter')
    await kept(page, `${what} pressed`)
  },
  type: async (field, text, end = 'Tab') => {
    await reach(page, field)
    await page.keyboard.press('Control+a')
    await page.keyboard.type(text)
    await page.keyboard.press(end)
    if (end !== 'Tab') return kept(page, `${field} typed`)
    await page.waitForTimeout(20)
    if (await page.evaluate(() => /^H\d$/.test(document.activeElement?.tagName ?? '')))
      throw new Error(`${field}: Tab went to a title and not on`)
  },
  choose: async (list, option) => {
    await reach(page, list)
    await page.keyboard.type(option)
    const chosen = await list.evaluate((e) => (e as HTMLSelectElement).selectedOptions[0]?.label)
    if (chosen !== option) throw new Error(`Typing “${option}” chose “${chosen}”`)
  },
  carry: async (v, item) => {
    await reach(page, v.row(item))
    for (const key of ['ArrowRight', 'ArrowRight', 'ArrowUp', 'Space']) await page.keyboard.press(key)
  },
})
