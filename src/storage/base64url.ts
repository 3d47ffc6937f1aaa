/** The alphabet of RFC 4648, section 5, without padding: all of it may stand in a URL's fragment. */

export function toBase64Url(bytes: Uint8Array): string {
  let binary = '';
  for (const byte of bytes) binary += String.fromCharCode(byte);
  return btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

/** The bytes, as far as the text goes; null when a character is none of the alphabet. */
export function fromBase64Url(text: string): Uint8Array<ArrayBuffer> | null {
  if (!/^[\w-]*$/.test(text)) return null;
  // A last character alone holds no whole byte.
  const whole = text.length % 4 === 1 ? text.slice(0, -1) : text;
  const binary = atob(whole.replaceAll('-', '+').replaceAll('_', '/'));
  return Uint8Array.from(binary, (char) => char.charCodeAt(0));
}
