package desk

// Remembered is how many texts of forms a desk remembers.
func Remembered(d *Desk) int {
	d.shown.mu.Lock()
	defer d.shown.mu.Unlock()
	return len(d.shown.texts)
}
