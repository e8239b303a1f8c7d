/** Handing a file to the photographer: into the downloads. */
export function saveFile(name: string, bytes: Uint8Array, type: string): void {
  const address = URL.createObjectURL(new Blob([new Uint8Array(bytes)], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** The bytes of a chosen file; null where none was chosen. */
export async function chosenBytes(
  input: HTMLInputElement,
): Promise<{ name: string; bytes: Uint8Array<ArrayBuffer> } | null> {
  const file = input.files?.[0];
  if (file === undefined) return null;
  const bytes = new Uint8Array(await file.arrayBuffer());
  // The same file may be chosen again.
  input.value = '';
  return { name: file.name, bytes };
}
