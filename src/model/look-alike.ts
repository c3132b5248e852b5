/** Names that people take for one another, told by two keys: how they look, and how they are said. */

/**
 * Letters of other scripts drawn like Latin ones, from the confusables of Unicode Technical Standard #39: Cyrillic and
 * Greek, the two alphabets that share shapes with Latin. NFKC folds full-width, superscript and styled letters.
 */
const HOMOGLYPHS: ReadonlyMap<string, string> = pairs(
  'АВЕЅІЈКМНОРСТУХԌԚԜ',
  'ABESIJKMHOPCTYXGQW', // Cyrillic capitals
  'аеѕіјорсухһԁԛԝҽӏ',
  'aesijopcyxhdqwel', // Cyrillic small
  'ΑΒΕΖΗΙΚΜΝΟΡΤΥΧ',
  'ABEZHIKMNOPTYX', // Greek capitals
  'αιορυνγ',
  'aiopuvy', // Greek small
);

/** One sign for each shape: 0 and O; 1, small l, capital I and the upright bar. */
const SHAPES: ReadonlyMap<string, string> = pairs('oOlI|', '00111');

/** Equal for names that look alike: `cam-1` and `cam-l`, `RED` with a Cyrillic Е, `сam` with a Cyrillic с. */
export function lookOf(name: string): string {
  const latin = Array.from(visible(name), (sign) => HOMOGLYPHS.get(sign) ?? sign);
  return withoutSeparators(
    latin
      .map((sign) => SHAPES.get(sign) ?? sign)
      .join('')
      .toLowerCase(),
  );
}

/** Equal for names that differ only by case, by spaces, hyphens and underscores, or by leading zeros: `Cam 01`, `cam-1`. */
export function spellingOf(name: string): string {
  return withoutSeparators(visible(name).toLowerCase()).replace(/(?<!\d)0+(?=\d)/g, '');
}

/** Without signs nobody sees, and with one form for signs that have several. */
function visible(name: string): string {
  return name.normalize('NFKC').replace(/\p{Default_Ignorable_Code_Point}/gu, '');
}

/** Between two digits a separator stays: `cam-1-1` is not `cam-11`. */
function withoutSeparators(name: string): string {
  return name.replace(/[\s_.\p{Dash_Punctuation}]+/gu, '-').replace(/(?<!\d)-|-(?!\d)/g, '');
}

function pairs(...texts: readonly string[]): ReadonlyMap<string, string> {
  const map = new Map<string, string>();
  for (let index = 0; index + 1 < texts.length; index += 2) {
    const to = Array.from(texts[index + 1] ?? '');
    for (const [at, sign] of Array.from(texts[index] ?? '').entries()) map.set(sign, to[at] ?? sign);
  }
  return map;
}
