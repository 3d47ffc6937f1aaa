/** Hands a file to the browser's downloads. */
export function saveFile(file: Blob, name: string): void {
  const address = URL.createObjectURL(file);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** A title as a file's name: letters, digits, spaces and hyphens; accidentals as letters. */
export const fileName = (title: string) =>
  title
    .replaceAll('♭', 'b')
    .replaceAll('♯', ' sharp')
    .replaceAll(/[^\p{L}\p{N} -]/gu, '')
    .trim() || 'chart';
