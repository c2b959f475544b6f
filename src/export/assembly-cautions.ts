/**
 * What an assembly sheet warns of, by the kind of work. The usual cautions of the trade (common practice, no source); local codes,
 * the machine's manual and licensed practice come first.
 */
export interface CautionGroup {
  readonly work: string
  readonly cautions: readonly string[]
}

export const assemblyCautions: readonly CautionGroup[] = [
  {
    work: 'First of all',
    cautions: [
      "Local codes, the machine's manual and licensed practice come first: where they say otherwise, do as they say, and where they ask for a trained or licensed person, ask one.",
    ],
  },
  {
    work: 'Cutting and drilling',
    cautions: [
      'Wear eye protection.',
      'Clamp the work; never hold it by hand under a drill. No gloves, loose sleeves or loose hair near a turning tool.',
      'De-burr every hole and edge: burrs cut fingers and the insulation of wires.',
      'Laser: ventilate it, and never leave it unattended while it runs.',
      'Know the material: some plastics give off poisonous or corrosive fumes under a laser or a hot tool; dust of fibre-filled plates is harmful.',
    ],
  },
  {
    work: 'Soldering',
    cautions: [
      'Hot iron: keep it in its stand whenever it is not in the hand, and switch it off when you leave.',
      'Ventilate: draw the fumes away from the face.',
      'Wash your hands afterwards, before eating or drinking.',
    ],
  },
  {
    // Files do not say of what kind cells are: what holds for lithium alone says so.
    work: 'Packs of cells',
    cautions: [
      'Put a fuse in the plus lead, close to the pack, sized for the thinnest wire after it.',
      'No bare leads: insulate each end before the next one is touched; never cut both leads at once.',
      'Lithium cells: charge them with their own charger only, in sight, on a surface that does not burn. Other cells: charge only those that are made for it.',
      'Do not use a pack or cell that leaks, or is swollen, dented, pierced or hot.',
    ],
  },
  {
    work: 'Wiring',
    cautions: [
      'Disconnect every supply before wiring: battery, plug-in supply and data lead alike.',
      'Check polarity, and check with a meter that supply and ground are not shorted, before anything is connected to power.',
    ],
  },
  {
    work: 'First power',
    cautions: [
      'Tracks off the ground: put the robot on a block.',
      'Keep fingers, hair and sleeves clear of tracks and moving heads.',
      'Keep a switch in reach that cuts the power, and switch off at once at any smell, smoke or heat.',
    ],
  },
]
