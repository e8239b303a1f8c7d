/** The light in which the page is read: paper, bright sun, or dark. Kept on this device. */
import { effect, signal } from '@preact/signals';

export const pageLights = ['paper', 'sun', 'dark'] as const;
export type PageLight = (typeof pageLights)[number];

export const pageLightWords: Readonly<Record<PageLight, string>> = {
  paper: 'on paper',
  sun: 'in bright sun',
  dark: 'in the dark',
};

const key = 'tepal page light';
const isLight = (text: string | null): text is PageLight => pageLights.some((light) => light === text);

/** What was chosen here before; else what the device asks for. */
function firstLight(): PageLight {
  try {
    const kept = localStorage.getItem(key);
    if (isLight(kept)) return kept;
  } catch {
    // A closed store keeps no choice; the device's own wish stands in.
  }
  if (matchMedia('(prefers-contrast: more)').matches) return 'sun';
  return matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'paper';
}

export const pageLight = signal<PageLight>('paper');

/** Draws the page in its light from now on. */
export function lightPage(): void {
  pageLight.value = firstLight();
  effect(() => {
    const root = document.documentElement;
    root.dataset['light'] = pageLight.value;
    // The bar round the page takes the colour of the page.
    const paper = getComputedStyle(root).getPropertyValue('--paper').trim();
    document.querySelector('meta[name="theme-color"]')?.setAttribute('content', paper);
  });
}

export function turnLight(): void {
  const next = pageLights[(pageLights.indexOf(pageLight.value) + 1) % pageLights.length] ?? 'paper';
  pageLight.value = next;
  try {
    localStorage.setItem(key, next);
  } catch {
    // The choice holds until the page is closed.
  }
}
