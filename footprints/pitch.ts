/** From contact to contact on breadboards and header strips: 0.1 in (common practice), in mm and in Um. */
export const PITCH = 2.54
export const PITCH_UM = 2540
