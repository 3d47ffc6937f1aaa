import { describe, expect, it } from 'vitest';
import { visit } from '../helpers/page.ts';

describe('a take', () => {
  it('is recorded in the built app, heard again, and there on the next visit', async () => {
    const { page, complaints, foreign, close } = await visit({ permissions: ['microphone'] });
    const open = () => page.getByRole('button', { name: 'Take', exact: true }).click();
    await open();
    await page.getByRole('button', { name: 'Record over the band' }).click();
    await page.getByRole('button', { name: 'End the take' }).waitFor();
    await page.getByText(/^Bar 1, round 1/).waitFor();
    await page.waitForTimeout(1500);
    await page.getByRole('button', { name: 'End the take' }).click();
    await page.getByRole('button', { name: /^Take 1/ }).waitFor();
    await page.getByRole('button', { name: 'Listen to take 1' }).click();
    await page.getByText(/^Bar 1, round 1/).waitFor();
    // It ends by itself, with the take.
    await page.getByRole('button', { name: 'Listen to take 1' }).waitFor();
    await page.reload({ waitUntil: 'networkidle' });
    await open();
    await page.getByRole('button', { name: /^Take 1/ }).waitFor();
    expect(complaints).toEqual([]);
    expect(foreign).toEqual([]);
    await close();
  });

  it('is not begun where the microphone is refused, and the band plays all the same', async () => {
    const { page, close } = await visit({ permissions: [] });
    await page.evaluate(() => {
      navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException('', 'NotAllowedError'));
    });
    await page.getByRole('button', { name: 'Take', exact: true }).click();
    await page.getByRole('button', { name: 'Record over the band' }).click();
    await page.getByText(/does not let this page use the microphone/).waitFor();
    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await page.getByText(/^Bar 1, round 1/).waitFor();
    expect(await page.getByRole('button', { name: 'Stop', exact: true }).count()).toBe(1);
    await close();
  });
});
