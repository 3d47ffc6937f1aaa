/** A degree as a player says it: "root", "3rd", "b9". */
export function degreeInWords(degree: string): string {
  return WORDS[degree] ?? degree;
}

/** Only plain degrees get an ordinal; altered ones are said as they are written. Common practice. */
const WORDS: Readonly<Record<string, string>> = {
  '1': 'root',
  '2': '2nd',
  '3': '3rd',
  '4': '4th',
  '5': '5th',
  '6': '6th',
  '7': 'major 7th',
  '9': '9th',
  '11': '11th',
  '13': '13th',
  b3: 'minor 3rd',
  b7: 'minor 7th',
};

/** "semitone" for one, "tone" for two. */
export function semitonesInWords(count: number): string {
  return count === 1 ? 'semitone' : 'tone';
}
