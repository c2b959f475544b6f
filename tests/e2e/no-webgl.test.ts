import { expect, it } from 'vitest'
import { closePages, plainBrowser, visit } from './visit.ts'

it('without WebGL the plan goes on working and says why there is no 3D', async () => {
  const browser = await plainBrowser()
  try {
    const v = await visit(browser)
    await v.solved()
    await v.page.getByText(/There is no 3D view: this browser offers no WebGL/).waitFor()
    const before = await v.picture()
    expect(before.length).toBeGreaterThan(5)
    await v.drag('damp', 12, -12)
    await v.settled()
    expect(await v.picture()).not.toEqual(before)
    await v.button('Undo').click()
    expect(await v.picture()).toEqual(before)
    expect(v.errors).toEqual([])
  } finally {
    await closePages(browser)
  }
})
