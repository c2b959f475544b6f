/**
 * Every kind of finding that statics can give, and what it says. A finding's `kind` is one of these; its sentence has the names and
 * numbers. The demos show each of them at least once (tests/footprints/demos-findings.test.ts).
 */
export const STATICS_FINDINGS = {
  'does-not-stand': 'the centre of gravity can lie outside the contact',
  'tips-early': 'it tips on a smaller slope than it must stand on',
  'tips-on-slope': 'it tips on the slope that was asked about',
  'track-overloaded': 'one track carries more than its share',
  'later-unused': 'a field of a later item stands at one that is not later',
  'head-blocked': 'a part or plate stands in the way of a head or an arm',
  'head-blocked-by-stack': 'what is stacked on a part stands in the way of a head or an arm',
  'head-range': 'the tilts at which a head has its whole pan range',
  'head-beyond-sweep': 'a head or an arm reaches farther than the sweep that layouts are made with',
  'view-hidden': 'something stands in a view',
  'out-of-reach': 'cells, plug, button or switch cannot be reached with nothing taken off',
  'out-of-reach-by-stack': 'they cannot be reached while something is stacked',
  'light-hidden': 'a light is out of sight',
  'service-knot': 'parts wait for one another to come off',
  'service-deep': 'many parts come off before one',
} as const

export type StaticsFindingKind = keyof typeof STATICS_FINDINGS
