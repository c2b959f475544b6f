import { expect, it } from 'vitest'
import { bricks } from './sample.ts'
import { closePages, plainBrowser, visit } from './visit.ts'

it('without WebGL the plan goes on working and says why there is no 3D', async () => {
  const browser = await plainBrowser()
  try {
    const v = await visit(browser, { demo: 'none' })
    await v.open('bricks.json', bricks)
    await v.solved()
    await v.page.getByText(/There is no 3D view: this browser offers no WebGL/).waitFor()
    const before = await v.picture()
    expect(before).toHaveLength(3)
    await v.drag('left', 60, -40)
    await v.settled()
    expect(await v.picture()).not.toEqual(before)
    await v.button('Undo').click()
    expect(await v.picture()).toEqual(before)
    expect(v.errors).toEqual([])
  } finally {
    await closePages(browser)
  }
})
