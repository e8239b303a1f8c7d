/** What the page in view says at the right of the header: the forecast's age, the folder; '' for nothing. */
import { signal } from '@preact/signals';

export const standing = signal('');
