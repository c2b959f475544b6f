/** Power typed field by field: groups of an item begin with its footprint's, go again where they say no more, and make sound files. */
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import type { PowerFile } from '../../footprints/power-fields.ts'
import { setItem, setWire } from '../../src/model/edit-items.ts'
import { endsWith, loadWith, powerWith } from '../../src/model/edit-power.ts'
import { type Project, readProject, writeProject } from '../../src/model/index.ts'

const pack: PowerFile = { supply: { cells: 4, volts: 1.5, ohms: 0.15 } }
const board: PowerFile = { part: 'controller', load: { running: 0.2, min: 4.5 } }

describe('power as it is typed', () => {
  it('begins with what the footprint says, for its group replaces the footprint’s whole', () => {
    expect(powerWith(undefined, board, { load: { running: 0.5 } })).toEqual({ load: { running: 0.5, min: 4.5 } })
    expect(powerWith(undefined, pack, { supply: { volts: 1.2 } })).toEqual({
      supply: { cells: 4, volts: 1.2, ohms: 0.15 },
    })
  })

  it('goes again where it says no more than the footprint, in whatever order it was typed', () => {
    const own = powerWith(undefined, board, { load: { running: 0.5 } })
    expect(powerWith(own, board, { load: { running: 0.2 } })).toBeUndefined()
    const bare = powerWith(undefined, undefined, { load: { max: 5 } })
    expect(powerWith(bare, undefined, { load: { max: undefined } })).toBeUndefined()
    // To take away what the footprint says is to say something.
    const none = powerWith(undefined, { load: { running: 1 } }, { load: { running: undefined } })
    expect(none).toEqual({ load: {} })
  })

  it('leaves the other groups alone, and takes no supply without volts for one', () => {
    const own: PowerFile = { part: 'motor', load: { stall: 2 } }
    expect(powerWith(own, undefined, { supply: { volts: 9 } })).toEqual({ ...own, supply: { volts: 9 } })
    expect(powerWith(own, undefined, { supply: { cells: 4 } })).toEqual(own)
    expect(powerWith({ ...own, supply: { volts: 9, cells: 2 } }, undefined, { supply: { volts: undefined } })).toEqual(
      own,
    )
    expect(powerWith({ supply: { volts: 9 } }, pack, { supply: { volts: undefined } })).toBeUndefined()
  })

  it('of a lead and of a wire’s ends comes and goes', () => {
    expect(loadWith(undefined, { stall: 1 })).toEqual({ stall: 1 })
    expect(loadWith({ stall: 1 }, { stall: undefined })).toBeUndefined()
    expect(endsWith(undefined, 1, 'solder')).toEqual(['contact', 'solder'])
    expect(endsWith(['contact', 'solder'], 0, 'plug')).toEqual(['plug', 'solder'])
    expect(endsWith(['contact', 'solder'], 0, undefined)).toBeUndefined()
  })

  it('is what a project file may say', () => {
    const project: Project = {
      format: 'deckwright-project',
      version: 1,
      units: 'mm',
      name: 'Fog bell',
      decks: [{ id: 'low', z: 40, thickness: 3, outline: { rect: [0, 0, 200, 160] } }],
      exits: [{ id: 'left', deck: 'low', at: [5, 5], kind: 'motor-pair', load: { running: 0.4, stall: 1.6 } }],
      items: [{ id: 'cells', footprint: 'cells-4-aa' }],
      wires: [{ id: 'feed', from: { exit: 'left' }, to: { item: 'cells', terminal: 'plus' } }],
    }
    const power = powerWith(undefined, pack, { supply: { volts: 1.2, capacity: 2 } })!
    const fed = setWire(project, 'base', 'feed', {
      supply: 'cells',
      ends: ['contact', 'solder'],
      path: 'out',
      stranded: true,
    })
    const now = setItem(fed, 'base', 'cells', { power, stack: 20, stackMass: [10, 40], laterMass: 5, laterReach: 2 })
    const read = readProject(writeProject(now), 'fog.json', loadLibrary())
    expect(read.ok ? read.value : read.problems).toEqual(now)
  })
})
