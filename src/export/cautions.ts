/**
 * What a template says wherever it is handed out: in the file, beside the page's download button and in the README.
 * The usual workshop cautions (common practice, no source); the machine's manual and local rules come first.
 */
export const cautions: readonly string[] = [
  'Wear eye protection.',
  'Clamp the work before drilling or sawing.',
  'Never leave a laser unattended while it runs, and ventilate it.',
  'Know the material: some plastics give off poisonous or corrosive fumes when they are cut by laser.',
  "The machine's manual and local rules come first; where they ask for a trained or licensed person, ask one.",
]
