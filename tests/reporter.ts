import type { Reporter, TestModule } from 'vitest/node'

/** Counts every test and, as the very last line on stdout, says `N passed, N failed, N skipped`. */
export default class ClosingLine implements Reporter {
  #passed = 0
  #failed = 0
  #skipped = 0

  onInit(): void {
    process.once('exit', (code) => {
      // A file that cannot be loaded or an error between tests has no test of its own, and still is a failure.
      if (code !== 0 && this.#failed === 0) this.#failed = 1
      process.stdout.write(`${this.#passed} passed, ${this.#failed} failed, ${this.#skipped} skipped\n`)
    })
  }

  onTestRunEnd(modules: readonly TestModule[], unhandled: readonly unknown[]): void {
    this.#passed = 0
    this.#skipped = 0
    this.#failed = unhandled.length
    for (const module of modules) {
      this.#failed += module.errors().length
      for (const test of module.children.allTests()) {
        const state = test.result().state
        if (state === 'passed') this.#passed++
        else if (state === 'failed') this.#failed++
        else this.#skipped++
      }
    }
  }
}
