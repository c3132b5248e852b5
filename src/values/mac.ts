/** A 48-bit MAC address as a number (it fits exactly). */
export type Mac = number;

const FORMS = [
  /^([0-9a-f]{2})([:-])(?:[0-9a-f]{2}\2){4}[0-9a-f]{2}$/i,
  /^[0-9a-f]{4}\.[0-9a-f]{4}\.[0-9a-f]{4}$/i,
  /^[0-9a-f]{12}$/i,
];

/** Colons (IETF), hyphens (IEEE), dotted quads or bare twelve digits; undefined otherwise. */
export function parseMac(text: string): Mac | undefined {
  return FORMS.some((form) => form.test(text)) ? Number.parseInt(text.replace(/[^0-9a-f]/gi, ''), 16) : undefined;
}

/** Lower case with colons. */
export function formatMac(mac: Mac): string {
  return mac
    .toString(16)
    .padStart(12, '0')
    .replace(/(..)(?!$)/g, '$1:');
}
