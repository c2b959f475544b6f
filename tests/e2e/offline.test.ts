/** After one visit the page goes on without a network: loaded again, a demo is chosen and solved. */
import { expect, inject, it } from 'vitest'
import { closePages, plainBrowser } from './visit.ts'

it('loads and solves a demo without a network after the first visit', async () => {
  const browser = await plainBrowser()
  try {
    const context = await browser.newContext()
    const page = await context.newPage()
    await page.goto(inject('page'))
    // The start view has all demos solved while somebody looks, and the files that are being kept would wait for that.
    await page.getByRole('button', { name: 'New deck', exact: true }).click()
    // Everything is there, and this very page is served from it.
    await page.waitForFunction(() => navigator.serviceWorker.controller?.state === 'activated')
    await context.setOffline(true)
    const reached = () =>
      page.evaluate(
        (url) =>
          fetch(`${url}?past-the-cache`, { method: 'POST' }).then(
            () => true,
            () => false,
          ),
        inject('page'),
      )
    expect(await reached()).toBe(false)
    await page.reload()
    await page.getByRole('button', { name: 'Start view', exact: true }).click()
    await page.getByRole('button', { name: 'Greenhouse scout' }).click()
    const plan = page.getByRole('group', { name: /^Plan/ })
    await plan.getByRole('button', { name: /^brain, .* from the left/ }).waitFor()
  } finally {
    await closePages(browser)
  }
})
