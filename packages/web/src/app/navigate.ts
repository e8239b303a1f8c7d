/** Going from page to page without loading the script again; back and forward work as everywhere. */
import { signal } from '@preact/signals';
import { readAddress, type Address } from './address.ts';

const here = () => readAddress(location.pathname, location.search);

/** The address that is shown. */
export const address = signal<Address>(here());

/** Goes to another address; `replace` leaves no step to go back to. */
export function goTo(path: string, { replace = false }: { replace?: boolean } = {}): void {
  if (replace) history.replaceState(null, '', path);
  else history.pushState(null, '', path);
  const before = address.value;
  address.value = here();
  if (before.page !== address.value.page || before.store !== address.value.store) scrollTo(0, 0);
}

/** Lets plain links inside the pages go through `goTo`; call once. */
export function followLinks(): void {
  addEventListener('popstate', () => {
    address.value = here();
  });
  document.addEventListener('click', (event) => {
    if (event.defaultPrevented || event.button !== 0) return;
    if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
    const link = event.target instanceof Element ? event.target.closest('a') : null;
    if (link === null || link.origin !== location.origin || link.target !== '') return;
    if (link.hasAttribute('download') || link.pathname.startsWith('/api/') || link.hash !== '') return;
    event.preventDefault();
    goTo(link.pathname + link.search);
  });
}
