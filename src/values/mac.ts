/** A 48-bit MAC address as a number (it fits exactly). */
export type Mac = number;

const FORMS = [/^[0-9a-f]{4}\.[0-9a-f]{4}\.[0-9a-f]{4}$/i, /^[0-9a-f]{12}$/i];

/** Colons (IETF), hyphens (IEEE), dotted quads or bare twelve digits; undefined otherwise. */
export function parseMac(text: string): Mac | undefined {
  // Nearly all are pairs, which a walk reads several times faster than an expression: a large plan has a hundred thousand.
  return text.length === 17 ? parsePairs(text) : parseOther(text);
}

/** Six pairs, all parted by the same sign. */
function parsePairs(text: string): Mac | undefined {
  const separator = text.charCodeAt(2);
  if (separator !== COLON && separator !== HYPHEN) return undefined;
  let value = 0;
  for (let index = 0; index < text.length; index++) {
    const code = text.charCodeAt(index);
    if (index % 3 === 2) {
      if (code !== separator) return undefined;
      continue;
    }
    const digit = digitOf(code);
    if (digit === undefined) return undefined;
    value = value * 16 + digit;
  }
  return value;
}

const COLON = 58;
const HYPHEN = 45;

function digitOf(code: number): number | undefined {
  if (code >= 48 && code <= 57) return code - 48;
  const letter = code | 32; // small
  return letter >= 97 && letter <= 102 ? letter - 87 : undefined;
}

function parseOther(text: string): Mac | undefined {
  return FORMS.some((form) => form.test(text)) ? Number.parseInt(text.replace(/[^0-9a-f]/gi, ''), 16) : undefined;
}

/** Lower case with colons. */
export function formatMac(mac: Mac): string {
  return mac
    .toString(16)
    .padStart(12, '0')
    .replace(/(..)(?!$)/g, '$1:');
}
