/** What becomes of the work: reload, other tabs, storage that refuses. */
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, inject, it } from 'vitest'
import { bricks, storeys } from './sample.ts'
import { closePages, plainBrowser, violations, visit } from './visit.ts'

let browser: Browser
beforeAll(async () => {
  browser = await plainBrowser()
})
afterAll(() => closePages(browser))

const drop = (page: Page, name: string, contents: string): Promise<void> =>
  page.evaluate(
    ([file, text]) => {
      const dataTransfer = new DataTransfer()
      dataTransfer.items.add(new File([text!], file!))
      for (const kind of ['dragover', 'drop'])
        document.body.dispatchEvent(new DragEvent(kind, { bubbles: true, cancelable: true, dataTransfer }))
    },
    [name, contents],
  )

it('work is found again, and two tabs do not spoil each other’s', async () => {
  const v = await visit(browser, { demo: 'none' })
  const { page } = v
  await page.getByRole('heading', { name: 'What goes where on the deck?' }).waitFor()
  await v.open('bricks.json', bricks)
  await v.allSolved()
  const solvers = () => page.workers().filter((w) => /\bentry-/.test(w.url()) && !/inspect|export/.test(w.url())).length
  expect(solvers()).toBeGreaterThan(0)
  const picture = await v.picture()
  expect(picture).not.toEqual([])
  // Renamed, moved, and loaded again at once, as after a slip of the hand.
  await v.button('Rename the document').click()
  await page.getByRole('textbox', { name: 'Name of the document' }).fill('Night scout: finds what nobody else does')
  await page.keyboard.press('Enter')
  await page.getByRole('heading', { name: 'Night scout' }).waitFor()
  await page.getByText(/^Kept in this browser, just now/).waitFor()
  await page.reload()
  await page.getByText('“Night scout” is as you left it, kept just now.').waitFor()
  await v.item('middle').waitFor()
  // Found again with what was found for it: nothing is looked for, so that nothing can stand elsewhere.
  expect(await v.picture()).toEqual(picture)
  expect(solvers()).toBe(0)

  const other = await v.context.newPage()
  await other.goto(inject('page'))
  const banner = other.getByRole('alert').filter({ hasText: 'This deck is open in another tab' })
  await banner.waitFor()
  await page.getByText('This deck is open in another tab too.').waitFor()
  await banner.getByRole('button', { name: 'Work here instead' }).click()
  await other.getByText(/^Kept in this browser/).waitFor()
  await page.getByRole('alert').filter({ hasText: 'Another tab works on this deck now' }).waitFor()
  await other.close()

  // A drawing, dropped, is looked at before it takes the deck's place, and is left again.
  await drop(page, 'plate.svg', '<svg/>')
  const bring = page.getByRole('dialog', { name: 'Bring in what is there' })
  await bring.getByText('plate.svg', { exact: true }).waitFor()
  await page.keyboard.press('Escape')
  await bring.waitFor({ state: 'detached' })

  // Files of the wrong kind, dropped: said, and nothing changed.
  await drop(page, 'later.json', JSON.stringify({ ...bricks, version: 2 }))
  await page
    .getByRole('alert')
    .filter({ hasText: 'later.json was not opened' })
    .getByText(/newer version/)
    .waitFor()
  await page.getByRole('heading', { name: 'Night scout' }).waitFor()
  await v.button('Put this aside').first().click()

  await page.getByRole('button', { name: 'Start view', exact: true }).click()
  await page.getByRole('button', { name: /^Night scout, kept/ }).waitFor()
  expect(await violations(page)).toEqual([])
  await v.button('Back to “Night scout”').click()
  await page.getByRole('button', { name: 'Start view', exact: true }).click()
  await drop(page, 'storeys.json', JSON.stringify(storeys))
  await v.plan.getByText('high deck, front').waitFor()
  expect(v.errors).toEqual([])
  await v.context.close()
})

it('a browser that keeps nothing says so at once, with a way to save a file', async () => {
  const context = await browser.newContext({ acceptDownloads: true, serviceWorkers: 'block' })
  const page = await context.newPage()
  await page.addInitScript(() => {
    IDBFactory.prototype.open = () => {
      throw new DOMException('not here', 'SecurityError')
    }
  })
  await page.goto(inject('page'))
  const banner = page.getByRole('alert').filter({ hasText: 'Your changes are not kept' })
  await banner.waitFor()
  expect(await banner.textContent()).toContain('private window')
  await page.getByRole('button', { name: 'Shelf reader' }).click()
  await page.getByText(/^Not kept: this browser does not let/).waitFor()
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    banner.getByRole('button', { name: 'Save a file' }).click(),
  ])
  expect(download.suggestedFilename()).toBe('shelf-reader.json')
  await context.close()
})
