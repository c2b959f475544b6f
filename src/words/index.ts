/**
 * Every text of the page, one file a part of it, so that another language is one more object of the same type. Numbers and names come
 * in as arguments; sentences are whole here, never glued together elsewhere.
 */
import { lengths } from './lengths.ts'
import { page } from './page.ts'
import { plan } from './plan.ts'

const english = { lengths, page, plan }

export type Words = typeof english

/** The words of the language in use. */
export const words: Words = english
