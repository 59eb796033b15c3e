"""Pages of a PDF drawn as pictures: the same on the screen and on every printer, whatever Qt can read."""

from PySide6.QtGui import QImage


class PaperPages:
    """The pages of a PDF of our own; it is to be closed."""

    def __init__(self, pdf: bytes) -> None:
        from pypdfium2 import PdfDocument

        self._document = PdfDocument(pdf)

    def __len__(self) -> int:
        return len(self._document)

    def size(self, number: int) -> tuple[float, float]:
        """Width and height of a page, in points; the first is 0."""
        width, height = self._document.get_page_size(number)
        return float(width), float(height)

    def picture(self, number: int, width: int) -> QImage:
        """A page so many pixels wide, on white."""
        page = self._document[number]
        bitmap = page.render(scale=width / self.size(number)[0], prefer_bgrx=True)
        image = QImage(bytes(bitmap.buffer), bitmap.width, bitmap.height, bitmap.stride, QImage.Format.Format_RGB32)
        drawn = image.copy()  # the first one looks into memory that goes with the bitmap
        bitmap.close()
        page.close()
        return drawn

    def text(self, number: int) -> str:
        """What is written on a page, line by line: for those who hear it."""
        page = self._document[number]
        written = page.get_textpage()
        text = str(written.get_text_range())
        written.close()
        page.close()
        return text.replace("\r\n", "\n")

    def close(self) -> None:
        """Let go of the document."""
        self._document.close()
