package document

// EditText changes the running text of blocks in place, whatever holds it:
// every run of it that is not verbatim goes through edit.
func EditText(blocks []Block, edit func(string) string) {
	for i, b := range blocks {
		switch b := b.(type) {
		case Heading:
			editInlines(b.Text, edit)
		case Paragraph:
			editInlines(b.Text, edit)
		case List:
			for _, item := range b.Items {
				EditText(item, edit)
			}
		case Table:
			for _, row := range append([][][]Inline{b.Header}, b.Rows...) {
				for _, cell := range row {
					editInlines(cell, edit)
				}
			}
		case Callout:
			EditText(b.Body, edit)
		case Quote:
			EditText(b.Body, edit)
		case Figure:
			b.Alt = edit(b.Alt)
			blocks[i] = b
		}
	}
}

func editInlines(inlines []Inline, edit func(string) string) {
	for i, in := range inlines {
		switch in := in.(type) {
		case Text:
			if !in.Code {
				in.Value = edit(in.Value)
				inlines[i] = in
			}
		case Link:
			editInlines(in.Text, edit)
		}
	}
}
