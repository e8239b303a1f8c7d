import { render } from 'preact';
import { followLinks } from './app/navigate.ts';
import { Shell } from './app/shell.tsx';
import { keepFieldPages } from './field/offline.ts';

const page = document.getElementById('page');
if (page !== null) {
  followLinks();
  render(<Shell />, page);
  void keepFieldPages();
}
