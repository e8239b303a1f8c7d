import { render } from 'preact';
import { followLinks } from './app/navigate.ts';
import { lightPage } from './app/page-light.ts';
import { Shell } from './app/shell.tsx';
import { keepFieldPages } from './field/offline.ts';

const page = document.getElementById('page');
if (page !== null) {
  lightPage();
  followLinks();
  render(<Shell />, page);
  void keepFieldPages();
}
