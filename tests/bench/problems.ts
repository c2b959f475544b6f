/** The problems that more than one part of the bench asks, by name. */
import duct from '../../demo-data/duct-inspector.json'
import scout from '../../demo-data/greenhouse-scout.json'
import shelf from '../../demo-data/shelf-reader.json'
import type { ObjectiveName, Problem } from '../../solver/index.ts'
import { variantsOf } from '../../src/model/index.ts'
import { problemOf, projectOf } from '../published/project.ts'

export interface Named {
  readonly name: string
  readonly problem: Problem
}

/** Every variant of the demo robots. */
export function demoProblems(): Named[] {
  return [
    ['greenhouse-scout', scout],
    ['duct-inspector', duct],
    ['shelf-reader', shelf],
  ].flatMap(([name, document]) => {
    const text = JSON.stringify(document)
    return variantsOf(projectOf(text)).map(({ id }) => ({ name: `${name}, ${id}`, problem: problemOf(text, id) }))
  })
}

/** The same problem with only so much to optimise. */
export const aiming = (p: Problem, objective: readonly ObjectiveName[]): Problem => ({ ...p, objective })
