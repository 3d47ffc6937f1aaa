/** Puts everything beside an element out of reach while it is there, and the focus into it. */
export function alone(element: HTMLElement): () => void {
  const others = [...element.parentElement!.children].filter(
    (other): other is HTMLElement => other !== element && other instanceof HTMLElement && !other.inert,
  );
  const opener = document.activeElement;
  for (const other of others) other.inert = true;
  element.querySelector<HTMLElement>('button')?.focus({ preventScroll: true });
  return () => {
    for (const other of others) other.inert = false;
    if (opener instanceof HTMLElement && opener.isConnected) opener.focus();
  };
}
