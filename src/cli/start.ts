export {}

process.stderr.write('deckwright: start is not built yet\n')
process.exitCode = 2
