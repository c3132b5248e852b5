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

/**
 * Those of a list that may share the look or the spelling of their name with another one; the others surely do not.
 * Cheap: it compares numbers made of the two keys, and makes no text for names in plain ASCII.
 */
export function alikeSuspects<T extends { readonly name: string }>(named: readonly T[]): readonly T[] {
  const spellings = named.map(({ name }) => keyNumber(name, SPELLING_SIGNS));
  const looks = named.map(({ name }) => keyNumber(name, LOOK_SIGNS));
  const alike = repeatsOf(spellings);
  const similar = repeatsOf(looks);
  if (alike.size === 0 && similar.size === 0) return [];
  return named.filter((_, index) => alike.has(spellings[index] ?? 0) || similar.has(looks[index] ?? 0));
}

/** Numbers that come more than once. Sorting finds them sooner than a map, for the few names of a device a plain search. */
function repeatsOf(keys: readonly number[]): ReadonlySet<number> {
  if (keys.length <= FEW) {
    return keys.some((key, index) => keys.indexOf(key) < index) ? new Set(keys) : NO_KEYS;
  }
  const repeated = new Set<number>();
  const sorted = new Int32Array(keys).sort();
  for (let index = 1; index < sorted.length; index++) {
    const key = sorted[index];
    if (key !== undefined && key === sorted[index - 1]) repeated.add(key);
  }
  return repeated;
}

const FEW = 8;
const NO_KEYS: ReadonlySet<number> = new Set();

const ZERO = 48;
const NINE = 57;
const SEPARATOR = 45;
const LAST_ASCII = 0x7e;
const SPELLING_SIGNS = signTable((sign) => sign);
const LOOK_SIGNS = signTable((sign) => SHAPES.get(sign) ?? sign);

/** What a key has for each ASCII sign, by code. */
function signTable(fold: (sign: string) => string): Uint8Array {
  return Uint8Array.from({ length: LAST_ASCII + 1 }, (_, code) => {
    const sign = String.fromCharCode(code);
    return /[\s_.-]/.test(sign) ? SEPARATOR : fold(sign).toLowerCase().charCodeAt(0);
  });
}

/** A number made of the signs of `spellingOf` or `lookOf`, which a walk along the name finds out one by one. */
function keyNumber(name: string, signs: Uint8Array): number {
  const dropsZeros = signs === SPELLING_SIGNS;
  let key = 0;
  let afterDigit = false;
  let separated = false; // a separator waits for what comes after it: between two digits it stays
  let zero = false; // a zero that begins a number waits for what comes after it: before another digit it goes
  for (let index = 0; index < name.length; index++) {
    const code = name.charCodeAt(index);
    if (code > LAST_ASCII) return textNumber(dropsZeros ? spellingOf(name) : lookOf(name));
    const sign = signs[code] ?? code;
    if (sign === SEPARATOR) {
      separated = true;
      continue;
    }
    const digit = sign >= ZERO && sign <= NINE;
    const apart = separated && afterDigit && digit;
    if (zero && (apart || !digit)) key = mixed(key, ZERO);
    if (apart) key = mixed(key, SEPARATOR);
    zero = dropsZeros && sign === ZERO && (zero || apart || !afterDigit);
    if (!zero) key = mixed(key, sign);
    afterDigit = digit;
    separated = false;
  }
  return zero ? mixed(key, ZERO) : key;
}

function textNumber(text: string): number {
  let key = 0;
  for (let index = 0; index < text.length; index++) key = mixed(key, text.charCodeAt(index));
  return key;
}

/** One step of the hash FNV-1a. */
function mixed(key: number, sign: number): number {
  return Math.imul(key ^ sign, 0x01000193);
}

function pairs(...texts: readonly string[]): ReadonlyMap<string, string> {
  const map = new Map<string, string>();
  for (let index = 0; index + 1 < texts.length; index += 2) {
    const to = Array.from(texts[index + 1] ?? '');
    for (const [at, sign] of Array.from(texts[index] ?? '').entries()) map.set(sign, to[at] ?? sign);
  }
  return map;
}
