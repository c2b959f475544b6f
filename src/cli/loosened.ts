/** Loosenings as they stand in a layout file: a sentence, the patch of the project file, and a layout of the patched project. */
import {
  applyChanges,
  type ConflictMember,
  type Loosening,
  loosening,
  type Problem,
  type WhatIfOptions,
} from '../../solver/index.ts'
import { changeProject, type LayoutFile, type Project, placementsToFile } from '../model/index.ts'
import { type Interrupts, toEnd } from './slices.ts'

type Loosened = Pick<LayoutFile, 'loosenings' | 'looseningsComplete'>

/** Up to three smallest loosenings in what time or steps are left. */
export async function loosened(
  project: Project,
  problem: Problem,
  conflict: readonly ConflictMember[],
  limits: WhatIfOptions,
  stop: Interrupts,
): Promise<Loosened> {
  const { time, steps, lazy } = limits
  const out = await toEnd(
    loosening(problem, conflict, {
      ...(time === undefined ? {} : { time }),
      ...(steps === undefined ? {} : { steps }),
      ...(lazy === undefined ? {} : { lazy }),
      signal: stop.signal,
    }),
  )
  return { loosenings: out.loosenings.map((l) => toFile(project, problem, l)), looseningsComplete: out.complete }
}

/** `problem` is the one that is loosened, the project what its file says. */
export function toFile(
  project: Project,
  problem: Problem,
  l: Loosening,
): NonNullable<LayoutFile['loosenings']>[number] {
  const loose = applyChanges({ problem, pins: [] }, l.changes).problem
  return {
    text: l.text,
    relative: Math.round(l.cost * 1e6) / 1e6,
    least: l.least,
    patch: [...changeProject(project, problem.variant, l.changes).patch],
    placements: placementsToFile(loose, l.placements),
  }
}
