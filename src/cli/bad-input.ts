/** Input that cannot be used: ends a command with exit code 2 and these lines on stderr, and with nothing written. */
export class BadInput extends Error {
  constructor(readonly lines: readonly string[]) {
    super(lines.join('\n'))
  }
}
