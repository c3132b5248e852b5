/** A name as YAML takes it: plain where that can be nothing else. */
export function quoted(text: string): string {
  return /^[A-Za-z][\w-]*(?: [\w-]+)*$/.test(text) && !/^(?:true|false|null|yes|no|on|off)$/i.test(text)
    ? text
    : JSON.stringify(text);
}
