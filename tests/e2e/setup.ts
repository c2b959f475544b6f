/** Builds the page once, serves it on a free loopback port, and unpacks the browser that ships with the test packages. */
import { fileURLToPath } from 'node:url'
import type { TestProject } from 'vitest/node'
import { unpackBrowser } from './browser.ts'
import { servePage } from './serve.ts'

declare module 'vitest' {
  export interface ProvidedContext {
    page: string
    browser: string
    libraries: string
  }
}

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const { address, close } = await servePage(fileURLToPath(new URL('../..', import.meta.url)))
  const { executable, libraries } = await unpackBrowser()
  project.provide('page', address)
  project.provide('browser', executable)
  project.provide('libraries', libraries)
  return close
}
