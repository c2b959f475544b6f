export async function main(_args: readonly string[]): Promise<number> {
  process.stderr.write('deckwright: no command is built yet\n')
  return 2
}
