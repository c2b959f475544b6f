/** The 3D view: what is drawn, its tools and sliders, and what is said when there is none. */
const extra = {
  wires: 'Wires',
  sweep: 'What a head sweeps, and where it is free',
  rooms: 'Corridors',
  zones: 'Zones',
  balance: 'Centre of gravity and what the robot stands on',
}

const way = { shown: 'shown', ghost: 'only hinted at', hidden: 'left away' }

const degrees = (n: number): string => `${String(Math.round(n * 10) / 10).replace('-', '−')}°`
/** By side, as everywhere else: a sign would have to be learnt. */
const panAt = (n: number): string =>
  Math.abs(n) < 0.05 ? 'straight ahead' : `${degrees(Math.abs(n))} ${n > 0 ? 'left' : 'right'}`
const tiltAt = (n: number): string =>
  Math.abs(n) < 0.05 ? 'level' : `${degrees(Math.abs(n))} ${n > 0 ? 'up' : 'down'}`
const spans = (list: readonly (readonly [number, number])[], at: (n: number) => string): string =>
  list.map(([a, b]) => `${at(a)} to ${at(b)}`).join(', ')

export const scene = {
  label: '3D view of the layout; the plan and the list of items tell the same',
  turning: '3D view',
  how:
    'Arrow keys turn the view, Page up and Page down look nearer and from farther off, Home shows the whole. ' +
    'By pointer: drag to turn it. What was clicked can then be dragged along its deck, and is held where it is let go of; Esc takes it back.',
  wait: 'The 3D view is on its way.',

  tools: 'Tools of the 3D view',
  above: 'From above',
  front: 'From the front',
  side: 'From the side',
  whole: 'As at first',
  nearer: 'Look nearer in 3D',
  farther: 'Look from farther off in 3D',
  left: 'Turn the view to the left',
  right: 'Turn the view to the right',
  up: 'Turn the view up',
  down: 'Turn the view down',

  shown: 'Shown in 3D…',
  extra,
  lift: 'Decks lifted apart',
  liftAt: (share: number): string => (share === 0 ? 'as built' : `${Math.round(share * 100)} %`),
  stacked: 'How high stacks are',
  stackedAt: (share: number): string =>
    share === 0
      ? 'nothing, at their lightest'
      : share === 1
        ? 'full, at their heaviest'
        : `${Math.round(share * 100)} %`,
  pan: 'Pan of the head',
  tilt: 'Tilt of the head',
  panAt,
  tiltAt,
  degrees,
  slope: 'Slope of the ground',
  downhill: 'Downhill towards',

  freePans: (head: string, list: readonly (readonly [number, number])[]): string =>
    list.length === 0
      ? `There is no direction in which ${head} is free at every tilt.`
      : `${head} is free at every tilt from ${spans(list, panAt)}.`,
  freeTilts: (pan: number, list: readonly (readonly [number, number])[]): string =>
    list.length === 0
      ? `Turned ${panAt(pan)}, no tilt is free.`
      : `Turned ${panAt(pan)}, it is free from ${spans(list, tiltAt)}.`,
  meets: (head: string): string => `Like this ${head} meets something.`,
  noBalance: 'The project does not say where the chassis touches the ground, so that nothing is known of its balance.',
  stands: (mm: string): string => `On this ground the plumb line meets it ${mm} mm inside what the robot stands on.`,
  standsWorst: (mm: string): string => `Loaded at its worst: ${mm} mm inside.`,
  tips: (mm: string): string => `On this ground the robot tips: the plumb line meets it ${mm} mm outside.`,
  tipsWorst: (mm: string): string => `Loaded at its worst it tips: ${mm} mm outside.`,

  parts: 'Parts…',
  partsHow: 'Only what is drawn in 3D changes; the layout stays as it is.',
  all: 'Show all',
  way,
  item: (id: string): string => `${id} in 3D`,
  deck: (name: string): string => `Deck ${name} in 3D`,

  lost: 'The browser took the drawing surface of the 3D view away.',
  lostHow: 'The plan beside it goes on working. The view comes back as soon as the browser can draw it.',
  again: 'Try it now',
}
