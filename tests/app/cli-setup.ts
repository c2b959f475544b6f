import { execFileSync } from 'node:child_process'

/** Builds the commands once, so that the tests run what a user runs. */
export function setup(): void {
  execFileSync('npm', ['run', '-s', 'build:cli'], { stdio: 'inherit' })
}
